import type { Party, StageName, Tolerances } from '../../model/index.ts';
import type { Job, SentFile, Tables } from '../catalogue/index.ts';
import { checkingState } from '../checking/checking-state.ts';
import { newestReport } from '../checking/file-findings.ts';
import { partState } from '../statements/part-state.ts';
import type { PartState } from '../statements/part-state.ts';
import { rulingStates, settledOf, UNRULED } from '../statements/rulings.ts';
import type { RulingState } from '../statements/rulings.ts';

/** Something that a side has to do next. */
export interface Wait {
  readonly what: 'failed-file' | 'dummy-to-sign' | 'findings-to-rule-on' | 'release-to-sign';
  readonly fileId: string;
  /** Findings that wait for this side's word; 0 for anything else. */
  readonly findings: number;
}

/** Where a part stands and what waits for one of its sides. */
export interface PartStage {
  readonly stage: StageName;
  /** The file that the stage is about; null where there is none. */
  readonly fileId: string | null;
  /** Findings that weigh `stop` or `look` and that both have not agreed to let be. */
  readonly open: number;
  readonly waits: readonly Wait[];
}

/**
 * Where a part stands at a glance, as one side sees it; with null for the party, a guest, for whom nothing waits.
 */
export async function partStage(
  tables: Tables,
  given: { readonly partId: string; readonly party: Party | null; readonly tolerances: Tolerances },
): Promise<PartStage> {
  const { partId, party, tolerances } = given;
  const files = await tables.files.ofPart(partId);
  const newest = files.at(-1);
  if (newest === undefined) return { stage: 'empty', fileId: null, open: 0, waits: [] };
  const state = await partState(tables, partId);
  const { reading, comparing } = await checkingState(tables, newest, tolerances);
  const found = await openFindings(tables, files, state);
  const waits = party === null ? [] : waitsOf(party, { newest, state, found, jobs: [reading, comparing] });
  const about = { newest, state, found, reading, comparing };
  return { ...stageOf(about), open: found?.open.length ?? 0, waits };
}

interface Found {
  readonly file: SentFile;
  readonly open: readonly RulingState[];
}

/** What is open in the newest file that was compared with the dummy in force; null where there is none. */
async function openFindings(tables: Tables, files: readonly SentFile[], { inForce }: PartState): Promise<Found | null> {
  if (inForce === null) return null;
  const dummyId = inForce.file.id;
  for (const file of files.toReversed()) {
    if (file.kind === 'dummy') continue;
    const report = await newestReport(tables, { dummyId, fileId: file.id });
    if (report === null) continue;
    const rulings = await rulingStates(tables, file.partId, dummyId);
    const weighty = (await tables.findings.inReport(report.id)).filter(({ weight }) => weight !== 'note');
    const states = weighty.map(({ finding }) => rulings.get(finding.id) ?? UNRULED);
    return { file, open: states.filter((ruling) => settledOf(ruling)?.decision !== 'agreed') };
  }
  return null;
}

interface Standing {
  readonly newest: SentFile;
  readonly state: PartState;
  readonly found: Found | null;
}

function waitsOf(
  party: Party,
  { newest, state, found, jobs }: Standing & { readonly jobs: readonly (Job | null)[] },
): readonly Wait[] {
  const waits: Wait[] = [];
  const add = (what: Wait['what'], fileId: string, findings = 0) => waits.push({ what, fileId, findings });
  if (jobs.some((job) => job?.state === 'failed')) add('failed-file', newest.id);
  const dummy = dummyToSign(party, state);
  // What is still being read, or could not be, cannot be signed.
  const isRead = dummy !== newest.id || jobs.every((job) => job === null || job.state === 'done');
  if (dummy !== null && isRead) add('dummy-to-sign', dummy);
  const mine = found?.open.filter((ruling) => ruling[party] === null || ruling.state === 'conflicting').length ?? 0;
  if (found !== null && mine > 0) add('findings-to-rule-on', found.file.id, mine);
  const release = state.releases.find(
    (one) => one.isOnDummyInForce && !one.isInForce && one.signatures.every((signature) => signature.party !== party),
  );
  if (release !== undefined) add('release-to-sign', release.fileId);
  return waits;
}

/** The first dummy as soon as it is there; another one only when the other side has signed it. */
function dummyToSign(party: Party, { dummies, inForce, replacements }: PartState): string | null {
  const waiting =
    inForce === null ? dummies.filter(({ standing }) => standing !== 'withdrawn').slice(-1) : replacements;
  const mine = waiting.find(({ signatures }) => signatures.every((signature) => signature.party !== party));
  return mine?.file.id ?? null;
}

function stageOf({
  newest,
  state,
  found,
  reading,
  comparing,
}: Standing & { readonly reading: Job | null; readonly comparing: Job | null }): Pick<PartStage, 'stage' | 'fileId'> {
  const at = (stage: StageName, fileId: string = newest.id) => ({ stage, fileId });
  const isAtWork = (job: Job | null): boolean => job?.state === 'waiting' || job?.state === 'running';
  if ([reading, comparing].some((job) => job?.state === 'failed')) return at('failed');
  if (isAtWork(reading)) return at('reading');
  if (isAtWork(comparing)) return at('comparing');
  if (state.inForce === null) return at('dummy-to-sign', state.dummies.at(-1)?.file.id);
  if (found === null) return at('dummy-in-force', state.inForce.file.id);
  const release = state.releases.findLast((one) => one.fileId === found.file.id && one.isOnDummyInForce);
  if (release !== undefined) return at(release.isInForce ? 'released' : 'release-to-sign', found.file.id);
  return at(found.open.length > 0 ? 'findings-open' : 'agrees', found.file.id);
}
