import { bringInParty, requirePerson } from '../../archive/index.ts';
import type { Actor, Entrance, Party, Person, Tables } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import type { ServiceTools } from '../tools.ts';
import { hashOfSecret, newSecret } from './secret.ts';

const DAY_MS = 86_400_000;

/** Makes a link's secret for a person who has no account yet; with null, for the very first one. */
export async function newInvitation(
  personId: string | null,
  tools: Pick<ServiceTools, 'archive' | 'configuration' | 'now'>,
): Promise<{ readonly secret: string; readonly untilMs: number }> {
  const secret = newSecret();
  const madeMs = tools.now();
  const untilMs = madeMs + tools.configuration.invitationDays * DAY_MS;
  const tokenHash = hashOfSecret(secret);
  await tools.archive.catalogue.entrances.add({ tokenHash, kind: 'invitation', personId, label: '', madeMs, untilMs });
  return { secret, untilMs };
}

/**
 * Whom the first link is for: nobody yet, or somebody whom a kill kept from their account while they made it.
 *
 * @returns null where somebody is in
 */
export async function firstToInvite(tables: Tables): Promise<{ readonly personId: string | null } | null> {
  const parties = await tables.parties.list();
  const first = parties.find(({ byPersonId }) => byPersonId === null);
  if (first === undefined) return { personId: null };
  const people = await tables.people.ofParty(first.id);
  const isIn = await hasAccount(
    tables,
    people.map(({ id }) => id),
  );
  return isIn || people[0] === undefined ? null : { personId: people[0].id };
}

/**
 * The invitation that a link's secret is, and whom it invites; null for the very first person.
 *
 * @throws {Refusal} not-found: none, used, run out, or meant for the first person when there are others
 */
export async function requireInvitation(
  secret: string,
  at: number,
  tables: Tables,
): Promise<{ readonly entrance: Entrance; readonly guest: { readonly person: Person; readonly party: Party } | null }> {
  const entrance = await tables.entrances.open(hashOfSecret(secret), at);
  if (entrance?.kind !== 'invitation') throw unseen();
  if (entrance.personId === null) return { entrance, guest: null };
  const person = await tables.people.get(entrance.personId);
  const party = person && (await tables.parties.get(person.partyId));
  if (person === null || party === null) throw unseen();
  if ((await tables.accounts.ofPerson(person.id)) !== null) throw unseen();
  return { entrance, guest: { person, party } };
}

/** What somebody tells to make their account; names only where the invitation does not have them. */
export interface AccountToMake {
  readonly invitation: string;
  readonly signInName: string;
  readonly password: string;
  readonly first?: { readonly party: string; readonly person: string } | undefined;
}

/**
 * Makes an account of an invitation, which is used up by it.
 *
 * @returns the id of the person
 * @throws {Refusal} not-found: as `requireInvitation`
 * @throws {Refusal} malformed: a password too short, a name that somebody has, or no names for the first person
 */
export async function acceptInvitation(told: AccountToMake, tools: ServiceTools): Promise<string> {
  const { catalogue } = tools.archive;
  const at = tools.now();
  // Before the hash, which costs time that not everybody is to be given.
  const { guest } = await requireInvitation(told.invitation, at, catalogue);
  const passwordHash = await tools.passwords.hash(told.password);
  const personId = guest?.person.id ?? (await bringInFirst(told.first, tools));
  return catalogue.together(async (tables) => {
    const { entrance } = await requireInvitation(told.invitation, at, tables);
    if ((await tables.accounts.byName(told.signInName)) !== null) {
      const expected = 'a name that nobody has yet';
      throw new Refusal('malformed', { pointer: '/body/signInName', expected, found: 'one that is taken' });
    }
    await tables.entrances.end(entrance.tokenHash, at);
    await tables.accounts.add({ personId, signInName: told.signInName, passwordHash, at });
    return personId;
  });
}

/** Two who come at once: the second is told what is told to whoever comes too late. */
async function bringInFirst(names: AccountToMake['first'], { archive, now }: ServiceTools): Promise<string> {
  if (names === undefined) {
    const expected = 'the names of the first party and person';
    throw new Refusal('malformed', { pointer: '/body/first', expected, found: 'nothing' });
  }
  try {
    return (await bringInParty(archive, null, names, now())).person.id;
  } catch (error) {
    if (error instanceof Refusal && (error as Refusal).kind === 'out-of-step') throw unseen();
    throw error;
  }
}

/**
 * Lets somebody invite a person again who has no account: one of their own party, or of a party that theirs brought in
 * and that nobody of has come in yet.
 *
 * @throws {Refusal} not-allowed: the right to sign is missing
 * @throws {Refusal} not-found: nobody that may be invited
 */
export async function requireMayInvite(tables: Tables, actor: Actor, personId: string): Promise<void> {
  await requirePerson(tables, actor, 'sign');
  const person = await tables.people.get(personId);
  const party = person && (await tables.parties.get(person.partyId));
  const bringer = party?.byPersonId == null ? null : await tables.people.get(party.byPersonId);
  const isOurs = person?.partyId === actor.partyId || bringer?.partyId === actor.partyId;
  const isIn =
    isOurs &&
    (await hasAccount(tables, person?.partyId === actor.partyId ? [personId] : await peopleOf(tables, person)));
  if (person === null || !isOurs || isIn) throw new Refusal('not-found', { what: 'person' });
}

async function peopleOf(tables: Tables, person: Person | null): Promise<readonly string[]> {
  return person === null ? [] : (await tables.people.ofParty(person.partyId)).map(({ id }) => id);
}

async function hasAccount(tables: Tables, personIds: readonly string[]): Promise<boolean> {
  const accounts = await Promise.all(personIds.map((id) => tables.accounts.ofPerson(id)));
  return accounts.some((account) => account !== null);
}

function unseen(): Refusal {
  return new Refusal('not-found', { what: 'an invitation that is still good' });
}
