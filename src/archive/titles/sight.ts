import { Refusal } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import { recorded, type Recording } from '../record/recorded.ts';
import { requireStanding } from '../standing.ts';

/** A title and a party that is to see it, or to see it no longer. */
export interface SightOrder {
  readonly titleId: string;
  readonly partyId: string;
}

/**
 * Gives a party sight of a title: an author, a designer, an adjudicator.
 *
 * @throws {Refusal} not-found: the title; or a party that is not there or not known to the own one
 * @throws {Refusal} not-allowed: as `requireStanding` for signing
 * @throws {Refusal} out-of-step: it sees the title already
 */
export async function giveSight(archive: Recording, actor: Actor, order: SightOrder, at: number): Promise<void> {
  const { titleId, partyId } = order;
  await recorded(archive, at, async (tables, log) => {
    await requireStanding(tables, actor, titleId, 'sign');
    const known = await tables.parties.knownTo(actor.partyId);
    if (!known.some(({ id }) => id === partyId)) throw new Refusal('not-found', { what: 'party' });
    if ((await tables.sight.standing(titleId, partyId)) !== null) refuse(partyId, 'given already');
    await tables.sight.give({ titleId, partyId, byPersonId: actor.personId, at });
    await log({ kind: 'sight-given', titleId, by: actor, subjects: [{ what: 'party', id: partyId, sha256: null }] });
  });
}

/**
 * Takes sight of a title back. Only the side that gave it may: neither shuts out the other's adviser.
 *
 * @throws {Refusal} not-found: the title
 * @throws {Refusal} not-allowed: as `requireStanding` for signing, or the other side gave it
 * @throws {Refusal} out-of-step: it was not given
 */
export async function takeSight(archive: Recording, actor: Actor, order: SightOrder, at: number): Promise<void> {
  const { titleId, partyId } = order;
  await recorded(archive, at, async (tables, log) => {
    await requireStanding(tables, actor, titleId, 'sign');
    if ((await tables.sight.standing(titleId, partyId)) !== 'sight') refuse(partyId, 'not given');
    const changes = await tables.sight.changes(titleId);
    const given = changes.findLast((change) => change.partyId === partyId && change.change === 'given');
    const giver = given === undefined ? null : await tables.people.get(given.byPersonId);
    if (giver?.partyId !== actor.partyId) {
      throw new Refusal('not-allowed', { what: 'take sight', missing: 'having given it' });
    }
    await tables.sight.take({ titleId, partyId, byPersonId: actor.personId, at });
    await log({ kind: 'sight-taken', titleId, by: actor, subjects: [{ what: 'party', id: partyId, sha256: null }] });
  });
}

function refuse(named: string, current: string): never {
  throw new Refusal('out-of-step', { what: 'sight of the title', named, current });
}
