import { hexOf } from '../ledger/index.ts';
import { fails, holds, readOr, type EvidenceCheck, type Findings } from './evidence-check.ts';
import { inName } from './names.ts';
import { parsePackFacts, type PackFacts } from './pack-facts.ts';

/** Reads `pack.json`; what it says is held against the rest later. */
export async function readFacts(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const read = await readOr('pack.json', 'told-as-recorded', async () =>
    parsePackFacts(await findings.pack.read('pack.json')),
  );
  if ('fault' in read) return [read.fault];
  findings.facts = read.value;
  return [];
}

/** That `pack.json` tells what the log and the statements say, as far as these say it. */
export function checkFacts(findings: Findings): readonly EvidenceCheck[] {
  const { facts } = findings;
  if (facts === null) return [];
  const faults = [headFaults, fileFaults, foldedFaults, statementFaults].flatMap((look) => look(findings, facts));
  if (faults.length === 0) return [holds('pack.json', 'told-as-recorded')];
  return faults.map(([expected, found]) => fails('pack.json', 'told-as-recorded', expected, found));
}

type Fault = readonly [expected: string, found: string];

function headFaults({ head, archive, entries }: Findings, facts: PackFacts): readonly Fault[] {
  const faults: Fault[] = [];
  if (archive !== null && facts.archive.origin !== archive.name) faults.push([archive.name, facts.archive.origin]);
  if (head !== null && (facts.head.size !== head.size || facts.head.root !== hexOf(head.root))) {
    faults.push([`the head of ${head.size} entries`, `one of ${facts.head.size}`]);
  }
  const told = facts.entries.join();
  const proved = [...entries.keys()].sort((one, other) => one - other).join();
  if (told !== proved) faults.push([`the entries ${told}`, `${proved === '' ? 'none' : proved}`]);
  return faults;
}

function fileFaults({ entries }: Findings, { files, reports }: PackFacts): readonly Fault[] {
  const recorded = [
    ...files.map((file) => ({ ...file, kind: 'upload' })),
    ...reports.map((report) => ({ ...report, kind: 'report' })),
  ];
  return recorded.flatMap(({ kind, id, sha256, at, entry }): readonly Fault[] => {
    const says = entry === null ? undefined : entries.get(entry)?.says;
    const isSo =
      says?.kind === kind && says.at === at && says.subjects.some((one) => one.id === id && one.sha256 === sha256);
    return isSo ? [] : [[`an entry of the log for ${kind} ${id} with its hash and time`, 'none']];
  });
}

/** A folded book and its plan are those that the entry of the report names, and the bytes in the pack are theirs. */
function foldedFaults({ entries, found }: Findings, { reports }: PackFacts): readonly Fault[] {
  return reports.flatMap(({ id, entry, folded }): readonly Fault[] => {
    const subjects = (entry === null ? undefined : entries.get(entry)?.says.subjects) ?? [];
    return (['folded-book', 'folding-plan'] as const).flatMap((what): readonly Fault[] => {
      const told = what === 'folded-book' ? folded?.book : folded?.plan;
      const named = subjects.find((one) => one.what === what)?.sha256 ?? null;
      const isThere = told?.member == null || found.get(told.member) === told.sha256;
      return named === (told?.sha256 ?? null) && isThere ? [] : [[`the ${what} of report ${id}`, 'another, or none']];
    });
  });
}

function statementFaults({ entries, found, pack }: Findings, facts: PackFacts): readonly Fault[] {
  const told = facts.statements.map(({ entry }) => `statements/${inName(entry)}.json`).sort();
  const there = pack.names.filter((name) => name.startsWith('statements/') && name.endsWith('.json'));
  const faults: Fault[] = told.join() === there.join() ? [] : [[`the statements ${told.join()}`, there.join()]];
  for (const { entry, sha256, at, personId, certificate } of facts.statements) {
    const says = entries.get(entry)?.says;
    const signer = facts.certificates.find((one) => one.sha256 === certificate);
    const isSo =
      says?.at === at && found.get(`statements/${inName(entry)}.json`) === sha256 && signer?.personId === personId;
    if (!isSo) faults.push([`statement ${entry} with its hash, time and signer`, 'another']);
  }
  return faults;
}
