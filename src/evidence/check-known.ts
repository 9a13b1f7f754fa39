import { hexOf, openCheckpoint, parseVerifierKey } from '../ledger/index.ts';
import { fingerprintOfHash } from '../sealing/index.ts';
import { checked, fails, readOr, unchecked, type EvidenceCheck, type Findings } from './evidence-check.ts';

/** What whoever checks a pack knows from elsewhere. */
export interface KnownElsewhere {
  /** A head of the archive's log as it was seen before: a signed note, perhaps with the archive's key in a line above. */
  readonly seen?: string;
  /** SHA-256 or short fingerprints of certificates, or keys of archives in hexadecimal. */
  readonly fingerprints?: readonly string[];
}

/** That the log of the pack continues the one that was seen before. */
export async function checkSeen(findings: Findings, { seen }: KnownElsewhere): Promise<readonly EvidenceCheck[]> {
  const about = 'the head that you have seen';
  if (seen === undefined) return [];
  const { archive, begins, head } = findings;
  if (archive === null || head === null) return [unchecked(about, 'head-seen', 'the pack has no head that holds')];
  const [first = ''] = seen.split('\n');
  const line = first.includes('+') ? first : null;
  const note = line === null ? seen : seen.slice(line.length + 1);
  const read = await readOr(about, 'head-seen', async () => {
    const known = line === null ? archive : parseVerifierKey(line);
    return { known, opened: await openCheckpoint(note, known) };
  });
  if ('fault' in read) return [read.fault];
  const { known, opened } = read.value;
  if (!opened.holds) return [fails(about, 'head-seen', `a head that ${known.name} signed`, opened.reason)];
  if (hexOf(known.publicKey) !== hexOf(archive.publicKey)) {
    return [fails(about, 'head-seen', `the key ${hexOf(known.publicKey)}`, `the key ${hexOf(archive.publicKey)}`)];
  }
  const { size, root } = opened.checkpoint;
  const begin = begins.get(size);
  if (begin === undefined) {
    const why = size > head.size ? `it is newer: ${size} entries` : `the pack has no proof from ${size} entries`;
    return [unchecked(about, 'head-seen', why)];
  }
  const [expected, found] = [hexOf(root), hexOf(begin)];
  return [checked(about, 'head-seen', expected === found, { expected: `the root ${expected}`, found })];
}

/** That the keys of the pack are those that are known from elsewhere, where any are. */
export function checkFingerprints(
  { certificates, archive }: Findings,
  { fingerprints = [] }: KnownElsewhere,
): readonly EvidenceCheck[] {
  return fingerprints.map((known) => {
    const typed = known.toLowerCase().replace(/[^0-9a-z]/g, '');
    const keys = archive === null ? [] : [hexOf(archive.publicKey)];
    const all = [...certificates.keys()].flatMap((sha256) => [
      sha256,
      fingerprintOfHash(Uint8Array.from(sha256.match(/../g) ?? [], (two) => Number.parseInt(two, 16)))
        .toLowerCase()
        .replace(/[^0-9a-z]/g, ''),
    ]);
    const isThere = [...keys, ...all].includes(typed);
    return checked(known.slice(0, 80), 'fingerprint', isThere, {
      expected: 'a certificate or key of the pack',
      found: 'none with this fingerprint',
    });
  });
}
