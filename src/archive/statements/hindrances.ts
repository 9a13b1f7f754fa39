import { Refusal, type Weight } from '../../model/index.ts';
import type { KeptReport, SentFile, Tables } from '../catalogue/index.ts';
import { newestReport } from '../checking/file-findings.ts';
import { partLife } from './part-state.ts';
import { inForce } from './part-life.ts';
import { rulingStates, settledOf, UNRULED, type RulingState } from './rulings.ts';

/** A finding that stands in the way of a release. */
export interface OpenFinding {
  readonly findingId: string;
  /** Its id within the report. */
  readonly mark: string;
  readonly weight: Weight;
  /** Settled and open all the same: it is to be put right. */
  readonly ruling: RulingState;
}

/** Whether a plates input may be released, and on what. */
export interface ReleaseGround {
  readonly dummyId: string;
  readonly report: KeptReport;
  /** What stands in the way; nothing where it may be released. */
  readonly open: readonly OpenFinding[];
  /** Statements of both sides on the findings that they agreed to let be, sorted, each once. */
  readonly rulings: readonly string[];
}

/**
 * What a release of a file would rest on, and what stands in its way: each finding that weighs `stop` or `look` and on
 * which the two sides have not both ruled, in the same words, that it is agreed. One that is to be put right stands in
 * the way until it is gone.
 *
 * @throws {Refusal} not-allowed: no plates input
 * @throws {Refusal} out-of-step: no dummy is in force, or the file was not compared with it yet
 */
export async function releaseGround(tables: Tables, file: SentFile): Promise<ReleaseGround> {
  if (file.kind !== 'plates-input') {
    throw new Refusal('not-allowed', { what: 'release to plates', missing: 'a file that was sent as plates input' });
  }
  const dummyId = inForce(await partLife(tables, file.partId))?.dummyId;
  if (dummyId === undefined) return refuse('the dummy in force', file.name, 'none');
  const report = await newestReport(tables, { dummyId, fileId: file.id });
  if (report === null) return refuse('the file to release', file.name, 'not compared with the dummy in force yet');
  if (report.folding !== file.foldingNumber) {
    return refuse('the file to release', file.name, 'not compared by the folding that was said last yet');
  }
  const states = await rulingStates(tables, file.partId, dummyId);
  const weighty = (await tables.findings.inReport(report.id)).filter(({ weight }) => weight !== 'note');
  const ruled = weighty.map(({ finding, mark, weight }) => {
    const ruling = states.get(finding.id) ?? UNRULED;
    return { findingId: finding.id, mark, weight, ruling, settled: settledOf(ruling) };
  });
  const isAgreed = (one: (typeof ruled)[number]): boolean => one.settled?.decision === 'agreed';
  const rulings = ruled.filter(isAgreed).flatMap(({ settled }) => settled?.statements ?? []);
  return {
    dummyId,
    report,
    open: ruled.filter((one) => !isAgreed(one)).map(({ settled: _settled, ...open }) => open),
    rulings: [...new Set(rulings)].sort(),
  };
}

/**
 * The findings that stand in the way of a release, as `releaseGround`.
 *
 * @throws {Refusal} not-found: there is no such file
 * @throws {Refusal} as `releaseGround`
 */
export async function releaseHindrances(tables: Tables, fileId: string): Promise<readonly OpenFinding[]> {
  const file = await tables.files.get(fileId);
  if (file === null) throw new Refusal('not-found', { what: 'file' });
  return (await releaseGround(tables, file)).open;
}

function refuse(what: string, named: string, current: string): never {
  throw new Refusal('out-of-step', { what, named, current });
}
