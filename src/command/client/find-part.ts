import { Refusal } from '../../model/index.ts';
import { wholeList, type ArchiveClient } from './ask-server.ts';
import type { ClientOption, Given } from './client-command.ts';
import { textOf } from './client-command.ts';

/** A title as the archive lists it. */
export interface ListedTitle {
  readonly id: string;
  readonly name: string;
  readonly publisher: { readonly name: string };
  readonly printer: { readonly name: string };
  readonly standing: 'publisher' | 'printer' | 'sight' | null;
}

/** A part of a title. */
export interface ListedPart {
  readonly id: string;
  readonly name: string;
}

/** A title with its parts. */
export interface WholeTitle extends ListedTitle {
  readonly parts: readonly ListedPart[];
}

/** Which title. */
export const TITLE_OPTION: ClientOption = { takes: 'NAME', says: 'the title, by its name or id', needed: true };

/** Which part of it. */
export const PART_OPTION: ClientOption = {
  takes: 'NAME',
  says: 'the part, by its name or id; where the title has one part, that one without it',
};

/**
 * The title that was named: by its id, or by its name in any case of letters.
 *
 * @throws {Refusal} not-found: none that this person sees; malformed: several are called so
 */
export async function findTitle(client: ArchiveClient, given: Given): Promise<WholeTitle> {
  const titles = await wholeList<ListedTitle>(client, '/api/titles');
  const { id } = oneNamed(titles, textOf(given, 'title'), { pointer: '--title', what: 'title' });
  return client.get(`/api/titles/${id}`);
}

/**
 * The part that was named, and its title.
 *
 * @throws {Refusal} as `findTitle`; malformed: no part is named, and the title has several
 */
export async function findPart(
  client: ArchiveClient,
  given: Given,
): Promise<{ readonly title: WholeTitle; readonly part: ListedPart }> {
  const title = await findTitle(client, given);
  const named = given.text('part');
  if (named !== null) return { title, part: oneNamed(title.parts, named, { pointer: '--part', what: 'part' }) };
  const [only, ...more] = title.parts;
  if (only !== undefined && more.length === 0) return { title, part: only };
  const names = title.parts.map(({ name }) => name).join(', ');
  throw new Refusal('malformed', {
    pointer: '--part',
    expected: names === '' ? 'a title with parts' : `one of ${names}`,
    found: 'none',
  });
}

function oneNamed<T extends { readonly id: string; readonly name: string }>(
  all: readonly T[],
  named: string,
  { pointer, what }: { readonly pointer: string; readonly what: string },
): T {
  const wanted = folded(named);
  const found = all.filter(({ id, name }) => id === named || folded(name) === wanted);
  const [one] = found;
  if (one === undefined) throw new Refusal('not-found', { what: `${what} “${named}”` });
  if (found.length === 1) return one;
  const ids = found.map(({ id }) => id).join(', ');
  throw new Refusal('malformed', {
    pointer,
    expected: `an id, as ${found.length} are called so: ${ids}`,
    found: named,
  });
}

/** The same however it was typed: letters large or small, accents as one sign or two. */
function folded(name: string): string {
  return name.trim().normalize('NFC').toLowerCase();
}
