import { z } from 'zod';
import type { Actor, Part, Title } from '../../archive/index.ts';
import {
  giveSight,
  openPart,
  openTitle,
  partName,
  renameTitle,
  requireStanding,
  takeSight,
} from '../../archive/index.ts';
import { formatCursor, parseCursor, refuseCursor } from '../cursor.ts';
import { json, nothing } from '../table/answer.ts';
import { requireMatch } from '../table/if-match.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';

const standing = z.enum(['publisher', 'printer', 'sight']);
const partKind = z.enum(['book-block', 'case', 'jacket', 'endpapers']);
const label = z.string().trim().max(100).meta({ description: 'tells two of a kind apart; empty where there is one' });

/** The form of a part. */
export const part = z
  .object({ id: form.id, title: form.id, kind: partKind, label, name: form.name, at: form.instant })
  .meta({ id: 'Part' });

/** The form of a title. */
export const title = z
  .object({ id: form.id, name: form.name, publisher: form.party, printer: form.party, standing, at: form.instant })
  .meta({ id: 'Title', description: '`standing` is what one’s own party is to it' });

const wholeTitle = title.extend({ formerNames: z.array(form.name), parts: z.array(part) }).meta({ id: 'WholeTitle' });

const seer = z.object({ party: form.party, standing }).meta({ id: 'Seer' });

const ofTitle = z.strictObject({ titleId: form.id });
const titleAndParty = z.strictObject({ titleId: form.id, partyId: form.id });

/** Titles, their parts, and who sees them. */
export const titleRoutes = [
  route({
    method: 'get',
    path: '/api/titles',
    name: 'listTitles',
    says: 'The titles that one sees, the newest first.',
    who: { may: 'signed-in' },
    query: form.page,
    answers: { 200: { says: 'them', json: form.listOf(title) } },
    answer: async ({ query, actor, tools }) => {
      const { items, next } = await seenTitles(query, actor, tools);
      return json({ items: await Promise.all(items.map((one) => shownTitle(one, actor, tools))), next });
    },
  }),
  route({
    method: 'post',
    path: '/api/titles',
    name: 'openTitle',
    says: 'Opens a title between two parties, of which one’s own is one. Needs the right to send files.',
    who: { may: 'signed-in' },
    body: { json: z.strictObject({ name: form.name, publisher: form.id, printer: form.id }) },
    answers: { 201: { says: 'opened', json: wholeTitle } },
    answer: async ({ body, actor, at, tools }) => {
      const given = { name: body.name, publisherId: body.publisher, printerId: body.printer };
      const opened = await openTitle(tools.archive, actor, given, at);
      return json(await shownWhole(opened, actor, tools), 201, { Location: `/api/titles/${opened.id}` });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}',
    name: 'readTitle',
    says: 'A title with its parts.',
    who: { may: 'standing', on: 'title', right: 'look' },
    params: ofTitle,
    answers: { 200: { says: 'it', json: wholeTitle } },
    answer: async ({ titleId, actor, tools }) => {
      const seen = await requireStanding(tools.archive.catalogue, actor, titleId);
      return json(await shownWhole(seen.title, actor, tools));
    },
  }),
  route({
    method: 'patch',
    path: '/api/titles/{titleId}',
    name: 'renameTitle',
    says: 'Another name; the former ones stay on record.',
    who: { may: 'standing', on: 'title', right: 'send-files' },
    params: ofTitle,
    headers: { 'If-Match': 'the ETag of the title as it was seen' },
    body: { json: z.strictObject({ name: form.name }) },
    answers: { 200: { says: 'so it is called', json: wholeTitle } },
    answer: async ({ titleId, body, actor, at, tools, request }) => {
      const { title: before } = await requireStanding(tools.archive.catalogue, actor, titleId);
      requireMatch(request, await shownWhole(before, actor, tools));
      const renamed = await renameTitle(tools.archive, actor, { titleId, name: body.name }, at);
      return json(await shownWhole(renamed, actor, tools));
    },
  }),
  route({
    method: 'post',
    path: '/api/titles/{titleId}/parts',
    name: 'openPart',
    says: 'Opens a part of a title.',
    who: { may: 'standing', on: 'title', right: 'send-files' },
    params: ofTitle,
    body: { json: z.strictObject({ kind: partKind, label: label.default('') }) },
    answers: { 201: { says: 'opened', json: part } },
    answer: async ({ titleId, body, actor, at, tools }) => {
      const opened = await openPart(tools.archive, actor, { titleId, ...body }, at);
      return json(shownPart(opened), 201, { Location: `/api/parts/${opened.id}` });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/sight',
    name: 'listSight',
    says: 'Who sees a title.',
    who: { may: 'standing', on: 'title', right: 'look' },
    params: ofTitle,
    answers: { 200: { says: 'the two sides and whoever was given sight', json: form.listOf(seer) } },
    answer: async ({ titleId, tools }) => {
      const all = await tools.archive.catalogue.sight.parties(titleId);
      const items = all.map(async ({ partyId, standing: as }) => ({
        party: await shownParty(partyId, tools),
        standing: as,
      }));
      return json({ items: await Promise.all(items), next: null });
    },
  }),
  route({
    method: 'put',
    path: '/api/titles/{titleId}/sight/{partyId}',
    name: 'giveSight',
    says: 'Gives a party sight of a title.',
    who: { may: 'standing', on: 'title', right: 'sign' },
    params: titleAndParty,
    answers: { 204: { says: 'given' } },
    answer: async ({ params, actor, at, tools }) => {
      await giveSight(tools.archive, actor, params, at);
      return nothing();
    },
  }),
  route({
    method: 'delete',
    path: '/api/titles/{titleId}/sight/{partyId}',
    name: 'takeSight',
    says: 'Takes sight of a title back. Only the side that gave it may.',
    who: { may: 'standing', on: 'title', right: 'sign' },
    params: titleAndParty,
    answers: { 204: { says: 'taken' } },
    answer: async ({ params, actor, at, tools }) => {
      await takeSight(tools.archive, actor, params, at);
      return nothing();
    },
  }),
  route({
    method: 'get',
    path: '/api/parts/{partId}',
    name: 'readPart',
    says: 'A part of a title.',
    who: { may: 'standing', on: 'part', right: 'look' },
    params: z.strictObject({ partId: form.id }),
    answers: { 200: { says: 'it', json: part } },
    answer: async ({ params, tools }) => {
      const found = await tools.archive.catalogue.titles.part(params.partId);
      if (found === null) throw new Error('a part that was let through the gate');
      return json(shownPart(found));
    },
  }),
];

/** A piece of the list of titles that somebody sees, the newest first, and where it goes on. */
export async function seenTitles(
  query: z.infer<typeof form.page>,
  actor: Actor,
  tools: ServiceTools,
): Promise<{ readonly items: readonly Title[]; readonly next: string | null }> {
  const { people, titles } = tools.archive.catalogue;
  const person = await people.get(actor.personId);
  if (person?.rights.includes('look') !== true) return { items: [], next: null };
  const before = query.after === undefined ? null : await seenTitle(parseCursor(query.after), actor, tools);
  const page = { most: query.most + 1, ...(before === null ? {} : { before }) };
  const found = await titles.seenBy(actor.partyId, page);
  const items = found.slice(0, query.most);
  const last = items.at(-1);
  return { items, next: found.length > items.length && last !== undefined ? formatCursor(last.id) : null };
}

/** A cursor may only name what its holder sees, or it would tell whether there is something. */
async function seenTitle(id: string, actor: Actor, { archive }: ServiceTools): Promise<string> {
  const isSeen = (await archive.catalogue.sight.standing(id, actor.partyId)) !== null;
  return isSeen ? id : refuseCursor();
}

async function shownParty(id: string, { archive }: ServiceTools): Promise<{ id: string; name: string }> {
  return { id, name: (await archive.catalogue.parties.get(id))?.name ?? '' };
}

/** A title as its reader's party has it. */
export async function shownTitle(one: Title, actor: Actor, tools: ServiceTools) {
  return {
    id: one.id,
    name: one.name,
    publisher: await shownParty(one.publisherId, tools),
    printer: await shownParty(one.printerId, tools),
    standing: await tools.archive.catalogue.sight.standing(one.id, actor.partyId),
    at: form.formatInstant(one.atMs),
  };
}

async function shownWhole(one: Title, actor: Actor, tools: ServiceTools): Promise<unknown> {
  const { titles } = tools.archive.catalogue;
  const names = await titles.names(one.id);
  const parts = await titles.parts(one.id);
  return { ...(await shownTitle(one, actor, tools)), formerNames: names.slice(0, -1), parts: parts.map(shownPart) };
}

/** A part with its name. */
export function shownPart(one: Part) {
  const { id, titleId, kind, label: told, atMs } = one;
  return { id, title: titleId, kind, label: told, name: partName(one), at: form.formatInstant(atMs) };
}
