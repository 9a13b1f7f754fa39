import type { AccountSource, Section } from './section.ts';
import { momentWords, personWords } from './names.ts';

/** On what the pack's proofs rest: keys, certificates, the head of the log and its time-stamps. */
export function proofSection({ facts }: AccountSource): Section {
  const { archive, head } = facts;
  const keys = facts.certificates.map(({ fingerprint, personId, sha256, introducedAt, revokedFrom }) => [
    `Key of ${facts.people.find(({ id }) => id === personId)?.name ?? personId}`,
    `${fingerprint} is the fingerprint of the key of ${personWords(facts, personId)}, introduced on ${momentWords(introducedAt)}` +
      `${revokedFrom === null ? '' : `, revoked from ${momentWords(revokedFrom)} on`}. SHA-256 of its certificate: ${sha256}.`,
  ]);
  const stamps = facts.timeStamps.map(({ size, authority, heldAt }) => [
    `Time-stamp`,
    `${authority} confirmed the log of ${size} entries; the archive had its answer on ${heldAt === null ? 'no day' : momentWords(heldAt)}.`,
  ]);
  const rows = [
    ['The log', `${archive.origin}, ${head.size} entries, root ${head.root}.`],
    ['Its key', `${archive.verifierKey}`],
    ...keys,
    ...(stamps.length === 0
      ? [['Time-stamps', 'There are none in this pack: times are those of the archive and of the signers.']]
      : stamps),
  ].map(([term, says]): readonly [string, string] => [term ?? '', says ?? '']);
  const text =
    'Whoever wants to rely on a signature asks its owner, by telephone or in writing and not by way of this pack, ' +
    'whether the fingerprint below is that of their key.';
  return {
    heading: 'What the proofs rest on',
    blocks: [
      { kind: 'text', text },
      { kind: 'terms', rows },
    ],
  };
}
