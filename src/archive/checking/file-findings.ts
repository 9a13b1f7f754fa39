import type { Finding, Weight } from '../../model/index.ts';
import type { KeptReport, SentFile, Tables } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { readReport } from '../read-report.ts';
import { rulingStates, settledOf, UNRULED } from '../statements/rulings.ts';
import type { RulingState, SettledRuling } from '../statements/rulings.ts';
import { dummyToCompareWith } from './dummy-to-compare-with.ts';
import { fileOf } from './file-of.ts';
import { meet } from './places.ts';

/**
 * How a finding stands in a file: it is there; something else differs at its place; the place is as the dummy has it; or
 * the file was not compared with this dummy.
 */
export type StateInFile = 'there' | 'changed' | 'gone' | 'not-compared';

/** A file of the chain, and how a finding stands in it. */
export interface FindingInFile {
  readonly file: SentFile;
  readonly state: StateInFile;
  /** Its id in that file's report, where it is there. */
  readonly mark: string | null;
}

/** A finding of a file, with its history. */
export interface FileFinding {
  /** The same in every file in which it is found again. */
  readonly id: string;
  /** Its id within the report. */
  readonly mark: string;
  readonly weight: Weight;
  /** As the report has it, with its sentence. */
  readonly finding: Finding & { readonly id: string };
  /** The file that introduced it; whose sender, time and remark tell the rest. */
  readonly firstFile: SentFile;
  /** Its state in every file from the first on, in order of arrival. */
  readonly states: readonly FindingInFile[];
  /** Where the two sides stand on it. */
  readonly ruling: RulingState;
  /** What both say of it; null where they do not. */
  readonly settled: SettledRuling | null;
  /** Whether it stands in the way of plates: it weighs `stop` or `look` and was not settled as agreed. */
  readonly isOpen: boolean;
}

/** A file's newest report under a dummy, with its findings. */
export interface FileFindings {
  readonly dummy: SentFile;
  readonly report: KeptReport;
  readonly findings: readonly FileFinding[];
}

/**
 * A file's findings in its newest report, under the dummy that its part is held against now.
 *
 * @returns null where the file was not compared with it yet
 * @throws {Refusal} not-found: there is no such file
 */
export async function fileFindings(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  fileId: string,
): Promise<FileFindings | null> {
  const file = await fileOf(catalogue, fileId);
  const dummy = await dummyToCompareWith(catalogue, file.partId);
  const chain = dummy && (await chainOf({ blobs, catalogue }, dummy));
  const own = chain?.find((link) => link.file.id === fileId);
  if (dummy === null || chain === null || own?.report == null) return null;
  const { report, found } = own;
  const rulings = await rulingStates(catalogue, file.partId, dummy.id);
  const findings = found.map(({ id, mark, finding }) => {
    const first = chain.findIndex((link) => link.found.some((one) => one.id === id));
    const states = chain.slice(first).map((link) => stateIn(link, id, finding));
    const ruling = rulings.get(id) ?? UNRULED;
    const settled = settledOf(ruling);
    const { weight } = finding;
    const isOpen = weight !== 'note' && settled?.decision !== 'agreed';
    return { id, mark, weight, finding, firstFile: chain[first]?.file ?? file, states, ruling, settled, isOpen };
  });
  return { dummy, report, findings };
}

/** The newest report on a file under a dummy; of sheets of which it was said again how they fold, by what was said last. */
export async function newestReport(
  { reports }: Pick<Tables, 'reports'>,
  { dummyId, fileId }: { readonly dummyId: string; readonly fileId: string },
): Promise<KeptReport | null> {
  const own = (await reports.onFile(fileId)).filter((report) => report.dummyId === dummyId);
  const last = Math.max(...own.map(({ folding }) => folding));
  return own.findLast(({ folding }) => folding === last) ?? null;
}

interface Found {
  readonly id: string;
  readonly mark: string;
  readonly finding: Finding & { readonly id: string };
}

/** A file of a part with what was found in it. */
interface Link {
  readonly file: SentFile;
  readonly report: KeptReport | null;
  readonly found: readonly Found[];
}

/** Every later file of the dummy's part, in order of arrival, and before them those that were compared with it too. */
async function chainOf(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  dummy: SentFile,
): Promise<readonly Link[]> {
  const links: Link[] = [];
  for (const file of await catalogue.files.ofPart(dummy.partId)) {
    if (file.kind === 'dummy') continue;
    const report = await newestReport(catalogue, { dummyId: dummy.id, fileId: file.id });
    if (report === null && file.position < dummy.position) continue;
    links.push({ file, report, found: report === null ? [] : await foundIn({ blobs, catalogue }, report) });
  }
  return links;
}

async function foundIn(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  report: KeptReport,
): Promise<readonly Found[]> {
  const marks = new Map((await catalogue.findings.inReport(report.id)).map(({ mark, finding }) => [mark, finding.id]));
  const { findings } = await readReport(blobs, report.sha256);
  return findings.flatMap((finding) => {
    const id = marks.get(finding.id);
    return id === undefined ? [] : [{ id, mark: finding.id, finding }];
  });
}

function stateIn({ file, report, found }: Link, id: string, finding: Finding): FindingInFile {
  if (report === null) return { file, state: 'not-compared', mark: null };
  const same = found.find((one) => one.id === id);
  if (same !== undefined) return { file, state: 'there', mark: same.mark };
  const { dummyPage, box } = finding;
  const isChanged = found.some(
    ({ finding: other }) =>
      other.weight !== 'note' && dummyPage !== null && other.dummyPage === dummyPage && meet(other.box, box),
  );
  return { file, state: isChanged ? 'changed' : 'gone', mark: null };
}
