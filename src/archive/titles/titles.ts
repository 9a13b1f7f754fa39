import { Refusal } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { Part, PartKind, Title } from '../catalogue/index.ts';
import { recorded, type Recording } from '../record/recorded.ts';
import { requirePerson, requireStanding } from '../standing.ts';
import { requireLine } from './require-line.ts';

const LONGEST_TITLE = 200;
const LONGEST_LABEL = 100;

/**
 * Opens a title between two parties; whoever opens it may send files for one of them.
 *
 * @throws {Refusal} malformed: the name, one party on both sides, or one's own on neither
 * @throws {Refusal} not-found: a party that is not there, or that the own party may not know of
 * @throws {Refusal} not-allowed: the right to send files is missing
 */
export async function openTitle(
  archive: Recording,
  actor: Actor,
  given: { readonly name: string; readonly publisherId: string; readonly printerId: string },
  at: number,
): Promise<Title> {
  const { publisherId, printerId } = given;
  const name = requireLine(given.name, '/name', LONGEST_TITLE);
  return recorded(archive, at, async (tables, log) => {
    const { id: byPersonId } = await requirePerson(tables, actor, 'send-files');
    const known = (await tables.parties.knownTo(actor.partyId)).map(({ id }) => id);
    if (![publisherId, printerId].every((id) => known.includes(id))) throw new Refusal('not-found', { what: 'party' });
    if (publisherId === printerId || ![publisherId, printerId].includes(actor.partyId)) {
      const expected = 'the own party as one of two sides';
      throw new Refusal('malformed', { pointer: '/printerId', expected, found: `${publisherId}, ${printerId}` });
    }
    const title = await tables.titles.add({ name, publisherId, printerId, byPersonId, at });
    const subjects = [
      { what: 'title', id: title.id, sha256: null },
      { what: 'publisher', id: publisherId, sha256: null },
      { what: 'printer', id: printerId, sha256: null },
    ];
    await log({ kind: 'title-opened', titleId: title.id, by: actor, subjects, remark: name });
    return title;
  });
}

/**
 * Gives a title another name; the former ones stay on record.
 *
 * @throws {Refusal} malformed: the name
 * @throws {Refusal} not-found, not-allowed: as `requireStanding` for sending files
 */
export async function renameTitle(
  archive: Recording,
  actor: Actor,
  given: { readonly titleId: string; readonly name: string },
  at: number,
): Promise<Title> {
  const { titleId } = given;
  const name = requireLine(given.name, '/name', LONGEST_TITLE);
  return recorded(archive, at, async (tables, log) => {
    const { title } = await requireStanding(tables, actor, titleId, 'send-files');
    if (title.name === name) return title;
    await tables.titles.rename({ titleId, name, byPersonId: actor.personId, at });
    const subjects = [{ what: 'title', id: titleId, sha256: null }];
    await log({ kind: 'title-renamed', titleId, by: actor, subjects, remark: name });
    return { ...title, name };
  });
}

/**
 * Opens a part of a title. Of a kind there may be several, told apart by their labels.
 *
 * @throws {Refusal} malformed: the label
 * @throws {Refusal} not-found, not-allowed: as `requireStanding` for sending files
 * @throws {Refusal} out-of-step: there is such a part
 */
export async function openPart(
  archive: Recording,
  actor: Actor,
  given: { readonly titleId: string; readonly kind: PartKind; readonly label?: string },
  at: number,
): Promise<Part> {
  const { titleId, kind } = given;
  const label = (given.label ?? '').trim() === '' ? '' : requireLine(given.label ?? '', '/label', LONGEST_LABEL);
  return recorded(archive, at, async (tables, log) => {
    await requireStanding(tables, actor, titleId, 'send-files');
    const parts = await tables.titles.parts(titleId);
    const name = partName({ kind, label });
    if (parts.some((part) => part.kind === kind && part.label === label)) {
      throw new Refusal('out-of-step', { what: 'a part to open', named: name, current: 'there is such a part' });
    }
    const part = await tables.titles.addPart({ titleId, kind, label, at });
    const subjects = [{ what: 'part', id: part.id, sha256: null }];
    await log({ kind: 'part-opened', titleId, by: actor, subjects, remark: name });
    return part;
  });
}

const PART_NAMES: Readonly<Record<PartKind, string>> = {
  'book-block': 'Book block',
  case: 'Case',
  jacket: 'Jacket',
  endpapers: 'Endpapers',
};

/** A part as people name it and as statements have it. */
export function partName({ kind, label }: Pick<Part, 'kind' | 'label'>): string {
  return label === '' ? PART_NAMES[kind] : `${PART_NAMES[kind]}, ${label}`;
}
