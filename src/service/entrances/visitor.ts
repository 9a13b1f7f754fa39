import type { Request } from 'express';
import type { Actor, Entrance, Person } from '../../archive/index.ts';
import type { ServiceTools } from '../tools.ts';
import { sessionCookieIn } from './session-cookie.ts';
import { hashOfSecret } from './secret.ts';

/** Whoever asks: a person, and what they came in with. */
export interface Visitor {
  readonly actor: Actor;
  readonly person: Person;
  readonly entrance: Entrance;
}

/**
 * Who sent a request. A token in the header counts before a cookie; one that is not good makes nobody of whoever sent
 * it, whatever else they have.
 */
export async function visitorOf(
  request: Request,
  { archive, configuration, now }: ServiceTools,
): Promise<Visitor | null> {
  const header = request.headers.authorization;
  const bearer = header === undefined ? null : (/^Bearer ([\w-]{1,200})$/i.exec(header)?.[1] ?? '');
  const secret = bearer ?? sessionCookieIn(request.headers.cookie, configuration);
  if (secret === null || secret === '') return null;
  const { entrances, people } = archive.catalogue;
  const entrance = await entrances.open(hashOfSecret(secret), now());
  if (entrance?.personId == null) return null;
  if (entrance.kind !== (bearer === null ? 'session' : 'token')) return null;
  const person = await people.get(entrance.personId);
  return person && { actor: { personId: person.id, partyId: person.partyId }, person, entrance };
}
