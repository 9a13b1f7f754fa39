import { requireStanding } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import type { Visitor } from '../entrances/visitor.ts';
import type { ServiceTools } from '../tools.ts';
import type { Who } from './route.ts';
import { TITLE_OF } from './title-of.ts';

/**
 * Lets in or refuses: the one place where routes ask who may. What cannot be seen is refused in the words in which
 * something is refused that is not there.
 *
 * @returns the title that the thing in the path belongs to, or an empty text where the route asks for no standing
 * @throws {Refusal} unidentified: nobody
 * @throws {Refusal} not-found: there is no such thing, or it may not be known of
 * @throws {Refusal} not-allowed: seen, but without the right
 */
export async function passGate(
  who: Who,
  visitor: Visitor | null,
  params: unknown,
  { archive }: ServiceTools,
): Promise<string> {
  if (who.may === 'anybody') return '';
  if (visitor === null) throw new Refusal('unidentified', { reason: 'a session or a token is needed, and still good' });
  if (who.may === 'signed-in') return '';
  const id = idIn(params, `${who.on}Id`);
  const titleId = id === null ? null : await TITLE_OF[who.on](archive.catalogue, id);
  const unseen = new Refusal('not-found', { what: who.on });
  if (titleId === null) throw unseen;
  try {
    await requireStanding(archive.catalogue, visitor.actor, titleId, who.right);
  } catch (error) {
    throw error instanceof Refusal && (error as Refusal).kind === 'not-found' ? unseen : error;
  }
  return titleId;
}

function idIn(params: unknown, name: string): string | null {
  const id: unknown = typeof params === 'object' && params !== null ? Reflect.get(params, name) : null;
  return typeof id === 'string' ? id : null;
}
