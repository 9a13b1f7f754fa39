import { Refusal } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { Party, Person, Right, Tables } from '../catalogue/index.ts';
import { recorded, type EntryToRecord, type Recording } from '../record/recorded.ts';
import { requirePerson } from '../standing.ts';
import { LONGEST_CERTIFIED, requireLine } from './require-line.ts';

const ALL_RIGHTS: readonly Right[] = ['look', 'send-files', 'sign'];

/** A party and the first of its people, who may do everything for it and ask others in. */
export interface BroughtIn {
  readonly party: Party;
  readonly person: Person;
}

/**
 * Brings a party in, with its first person. Whoever may sign for their own party may do it; the first party of all is
 * brought in by the archive's first start.
 *
 * @param actor  null: the first start
 * @param names  as their certificates will have them
 * @throws {Refusal} malformed: a name is empty or longer than a certificate can bear
 * @throws {Refusal} not-allowed: the right to sign is missing
 * @throws {Refusal} out-of-step: a party of this name is there; or it is not the first start any more
 */
export async function bringInParty(
  archive: Recording,
  actor: Actor | null,
  names: { readonly party: string; readonly person: string },
  at: number,
): Promise<BroughtIn> {
  const name = requireLine(names.party, '/party', LONGEST_CERTIFIED);
  const personName = requireLine(names.person, '/person', LONGEST_CERTIFIED);
  return recorded(archive, at, async (tables, log) => {
    if (actor !== null) await requirePerson(tables, actor, 'sign');
    else if ((await tables.parties.list()).length > 0) refuse('the first start', 'no party', 'there are parties');
    if ((await tables.parties.byName(name)) !== null) refuse('the name of a party', name, 'taken');
    const byPersonId = actor?.personId ?? null;
    const party = await tables.parties.add({ name, byPersonId, at });
    const person = await tables.people.add({ partyId: party.id, name: personName, rights: ALL_RIGHTS, byPersonId, at });
    const subjects = [{ what: 'party', id: party.id, sha256: null }];
    await log({ kind: 'party-joined', titleId: null, by: actor, subjects, remark: name });
    await log(joined(person, actor));
    return { party, person };
  });
}

/**
 * Takes somebody into one's own party.
 *
 * @throws {Refusal} malformed: the name, or a right without the right to look
 * @throws {Refusal} not-allowed: the right to sign is missing
 */
export async function takeInPerson(
  archive: Recording,
  actor: Actor,
  given: { readonly name: string; readonly rights: readonly Right[] },
  at: number,
): Promise<Person> {
  const name = requireLine(given.name, '/name', LONGEST_CERTIFIED);
  const rights = requireRights(given.rights);
  return recorded(archive, at, async (tables, log) => {
    await requirePerson(tables, actor, 'sign');
    const { partyId, personId } = actor;
    const person = await tables.people.add({ partyId, name, rights, byPersonId: personId, at });
    await log(joined(person, actor));
    return person;
  });
}

/**
 * Gives and takes rights of somebody in one's own party, until exactly these hold.
 *
 * @throws {Refusal} malformed: a right without the right to look
 * @throws {Refusal} not-found: nobody of this party
 * @throws {Refusal} not-allowed: the right to sign is missing, or nobody would be left who has it
 */
export async function changeRights(
  archive: Recording,
  actor: Actor,
  given: { readonly personId: string; readonly rights: readonly Right[] },
  at: number,
): Promise<Person> {
  const { personId } = given;
  const rights = requireRights(given.rights);
  return recorded(archive, at, async (tables, log) => {
    await requirePerson(tables, actor, 'sign');
    const person = await tables.people.get(personId);
    if (person?.partyId !== actor.partyId) throw new Refusal('not-found', { what: 'person' });
    if (rights.length === person.rights.length && rights.every((right) => person.rights.includes(right))) return person;
    if (!rights.includes('sign')) await requireAnotherSigner(tables, actor.partyId, personId);
    await tables.people.setRights({ personId, rights, byPersonId: actor.personId, at });
    const subjects = [{ what: 'person', id: personId, sha256: null }];
    await log({ kind: 'rights-changed', titleId: null, by: actor, subjects, remark: rights.join(', ') });
    return { ...person, rights };
  });
}

async function requireAnotherSigner(tables: Tables, partyId: string, personId: string): Promise<void> {
  const people = await tables.people.ofParty(partyId);
  if (people.some(({ id, rights }) => id !== personId && rights.includes('sign'))) return;
  throw new Refusal('not-allowed', {
    what: 'take the right to sign',
    missing: 'somebody else of the party who has it',
  });
}

function joined(person: Person, by: Actor | null): EntryToRecord {
  const subjects = [
    { what: 'person', id: person.id, sha256: null },
    { what: 'party', id: person.partyId, sha256: null },
  ];
  return { kind: 'person-joined', titleId: null, by, subjects, remark: person.rights.join(', ') };
}

function requireRights(rights: readonly Right[]): readonly Right[] {
  if (rights.length === 0 || rights.includes('look')) return ALL_RIGHTS.filter((right) => rights.includes(right));
  throw new Refusal('malformed', { pointer: '/rights', expected: 'look among them', found: rights.join(', ') });
}

function refuse(what: string, named: string, current: string): never {
  throw new Refusal('out-of-step', { what, named, current });
}
