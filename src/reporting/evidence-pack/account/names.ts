import type { PackFacts, PackFile } from '../../../evidence/index.ts';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** A moment as people read it: 25 Nov 2026, 10:00:05 UTC. */
export function momentWords(instant: string): string {
  const [year, month, day] = instant.slice(0, 10).split('-');
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? month} ${year}, ${instant.slice(11, 19)} UTC`;
}

const STANDING_WORDS: Readonly<Record<PackFacts['parties'][number]['standing'], string>> = {
  publisher: 'publisher',
  printer: 'printer',
  sight: 'given sight',
  none: 'of another party',
};

/** A person with their party: “Ada Lind (Blattwerk, publisher)”. */
export function personWords(facts: PackFacts, personId: string | null): string {
  if (personId === null) return 'The archive';
  const person = facts.people.find(({ id }) => id === personId);
  if (person === undefined) return `Somebody (${personId})`;
  return `${person.name} (${partyWords(facts, person.partyId)})`;
}

/** A party with what it is to the title. */
function partyWords(facts: PackFacts, partyId: string): string {
  const party = facts.parties.find(({ id }) => id === partyId);
  return party === undefined ? `another party (${partyId})` : `${party.name}, ${STANDING_WORDS[party.standing]}`;
}

/** A party by its name alone. */
export function partyName(facts: PackFacts, partyId: string): string {
  return facts.parties.find(({ id }) => id === partyId)?.name ?? `another party (${partyId})`;
}

/** Which side of the title somebody is on. */
export function sideOf(facts: PackFacts, personId: string): PackFacts['parties'][number]['standing'] {
  const person = facts.people.find(({ id }) => id === personId);
  return facts.parties.find(({ id }) => id === person?.partyId)?.standing ?? 'none';
}

/** A file as people name it: revision 2 “block-v2.pdf”. */
export function fileWords({ kind, revisionNumber, name }: PackFile): string {
  const what = kind === 'revision' ? `revision ${revisionNumber}` : kind === 'dummy' ? 'dummy' : 'plates input';
  return `${what} “${name}”`;
}

/** The same within a sentence: a revision is called by its number, other files by what they are. */
export function theFile(file: PackFile): string {
  return file.kind === 'revision' ? fileWords(file) : `the ${fileWords(file)}`;
}

/** A file of the pack by the hash that a statement or a report names; of several sendings, the first. */
export function namedFile(facts: PackFacts, sha256: string): string {
  const file = facts.files.find((one) => one.sha256 === sha256 || one.pageList?.sha256 === sha256);
  return file === undefined ? `the file of SHA-256 ${sha256.slice(0, 16)}…` : theFile(file);
}

/** “12-13, 16”. */
export function rangeWords(ranges: readonly { readonly first: number; readonly last: number }[]): string {
  return ranges.map(({ first, last }) => (first === last ? `${first}` : `${first}-${last}`)).join(', ');
}

/** A sentence with a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
