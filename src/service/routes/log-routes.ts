import { z } from 'zod';
import type { LogEntry, TimeStamp } from '../../archive/index.ts';
import { headOf, headsSeen, proveEntry, proveHistory } from '../../archive/index.ts';
import { formatBase64 } from '../../ledger/index.ts';
import { parseLogEntry, Refusal } from '../../model/index.ts';
import { formatCursor, parseCursor, refuseCursor } from '../cursor.ts';
import { json, text } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';

const root = z.string().regex(/^[0-9a-f]{64}$/);
const size = z.coerce.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const base64 = z.string().meta({ description: 'base64' });

const head = z
  .object({
    origin: z.string(),
    verifierKey: z.string().meta({ description: 'with which the note is checked' }),
    size: z.int(),
    root,
    note: z.string().meta({ description: 'the signed checkpoint' }),
    at: form.instant,
  })
  .meta({ id: 'Head' });

const entry = z
  .object({ index: z.int(), kind: z.string(), at: form.instant, leafHash: root, bytes: base64 })
  .meta({ id: 'Entry', description: 'its bytes are canonical JSON, and its leaf hash is made of them' });

const entryProof = z
  .object({
    index: z.int(),
    bytes: base64,
    proof: z.array(base64),
    head: z.object({ size: z.int(), note: z.string() }),
  })
  .meta({ id: 'EntryProof', description: 'RFC 9162 2.1.3' });

const historyProof = z
  .object({ note: z.string(), proof: z.array(base64) })
  .meta({ id: 'HistoryProof', description: 'RFC 9162 2.1.4; the note is the head that it leads to' });

const seen = z
  .object({ party: z.enum(['publisher', 'printer']), statement: form.sha256, size: z.int(), root, at: form.instant })
  .meta({ id: 'HeadSeen' });

const timeStamp = z
  .object({
    authority: z.string(),
    state: z.enum(['pending', 'held']),
    token: base64.nullable(),
    at: form.instant.nullable().meta({ description: 'when it was got' }),
    cause: z.string().nullable().meta({ description: 'why there is none yet' }),
  })
  .meta({ id: 'TimeStamp' });

const LOOKING = { may: 'standing', on: 'title', right: 'look' } as const;
const ofTitle = z.strictObject({ titleId: form.id });

/**
 * The log: its heads for whoever is in, its entries for whoever sees the title.
 *
 * @throws {Refusal} not-found: an entry of another title, or none
 */
export const logRoutes = [
  route({
    method: 'get',
    path: '/api/log/head',
    name: 'readHead',
    says: 'The latest head of the log, signed by the archive.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'it', json: head } },
    answer: async ({ tools }) => {
      const { atMs, ...told } = await headOf(tools.archive.catalogue, tools.archive.identity);
      return json({ ...told, at: form.formatInstant(atMs) });
    },
  }),
  route({
    method: 'get',
    path: '/api/log/checkpoint',
    name: 'readCheckpoint',
    says: 'The same as a signed note alone.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'C2SP tlog-checkpoint', bytes: ['text/plain'] } },
    answer: async ({ tools }) =>
      text((await headOf(tools.archive.catalogue, tools.archive.identity)).note, 'text/plain'),
  }),
  route({
    method: 'get',
    path: '/api/log/consistency',
    name: 'proveHistory',
    says: 'That the log continues a head which somebody remembers.',
    who: { may: 'signed-in' },
    query: z.strictObject({ from: size, to: size.optional() }),
    answers: { 200: { says: 'the proof', json: historyProof } },
    answer: async ({ query, tools }) => {
      const { note, proof } = await proveHistory(tools.archive.catalogue, query.from, query.to);
      return json({ note, proof: proof.map(formatBase64) });
    },
  }),
  route({
    method: 'get',
    path: '/api/log/heads/{size}/time-stamps',
    name: 'listTimeStamps',
    says: 'The time-stamps of a head (RFC 3161), and those that are still to come.',
    who: { may: 'signed-in' },
    params: z.strictObject({ size }),
    answers: { 200: { says: 'them', json: form.listOf(timeStamp) } },
    answer: async ({ params, tools }) => {
      const all = await tools.archive.catalogue.timeStamps.ofHead(params.size);
      return json({ items: all.map(shownTimeStamp), next: null });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/log',
    name: 'listEntries',
    says: 'What the log has on a title, in its order.',
    who: LOOKING,
    params: ofTitle,
    query: form.page,
    answers: { 200: { says: 'entries', json: form.listOf(entry) } },
    answer: async ({ titleId, query, tools }) => {
      const from = query.after === undefined ? 0 : Number(parseCursor(query.after));
      if (!Number.isSafeInteger(from) || from < 0) return refuseCursor();
      const found = await tools.archive.catalogue.log.ofTitle(titleId, { from, most: query.most + 1 });
      const following = found[query.most];
      const next = following === undefined ? null : formatCursor(following.index);
      return json({ items: found.slice(0, query.most).map(shownEntry), next });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/log/people',
    name: 'listActors',
    says: 'Who did what the log has on a title: entries name people by their ids.',
    who: LOOKING,
    params: ofTitle,
    answers: { 200: { says: 'them', json: form.listOf(form.person.omit({ rights: true })) } },
    answer: async ({ titleId, tools }) => {
      const { log, people } = tools.archive.catalogue;
      const entries = await log.ofTitle(titleId, { from: 0, most: Number.MAX_SAFE_INTEGER });
      const ids = new Set(entries.map(({ bytes }) => parseLogEntry(bytes).by.person));
      const found = await Promise.all([...ids].filter((id) => id !== null).map((id) => people.get(id)));
      const items = found.filter((one) => one !== null).map(({ id, name, partyId }) => ({ id, name, party: partyId }));
      return json({ items, next: null });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/log/{index}/proof',
    name: 'proveEntry',
    says: 'That an entry is in the log.',
    who: LOOKING,
    params: ofTitle.extend({ index: size }),
    query: z.strictObject({ size: size.optional() }),
    answers: { 200: { says: 'the proof, to the latest head or to the one of that size', json: entryProof } },
    answer: async ({ titleId, params, query, tools }) => {
      const { catalogue } = tools.archive;
      const kept = await catalogue.log.entry(params.index);
      if (kept?.titleId !== titleId) throw new Refusal('not-found', { what: 'entry' });
      const { index, bytes, proof, head: to } = await proveEntry(catalogue, params.index, query.size);
      const shown = { size: to.size, note: to.note };
      return json({ index, bytes: formatBase64(bytes), proof: proof.map(formatBase64), head: shown });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/heads-seen',
    name: 'listHeadsSeen',
    says: 'The heads that both sides saw when they signed: each can hold its own against the other’s.',
    who: LOOKING,
    params: ofTitle,
    answers: { 200: { says: 'them', json: form.listOf(seen) } },
    answer: async ({ titleId, tools }) => {
      const all = await headsSeen(tools.archive.catalogue, titleId);
      const items = all.map(({ statementId, atMs, ...told }) => ({
        ...{ ...told, statement: statementId },
        at: form.formatInstant(atMs),
      }));
      return json({ items, next: null });
    },
  }),
];

function shownEntry({ index, kind, atMs, leafHash, bytes }: LogEntry): unknown {
  const hash = Buffer.from(leafHash).toString('hex');
  return { index, kind, at: form.formatInstant(atMs), leafHash: hash, bytes: formatBase64(bytes) };
}

function shownTimeStamp(one: TimeStamp): unknown {
  const isHeld = one.state === 'held';
  return {
    authority: one.authority,
    state: one.state,
    token: isHeld ? formatBase64(one.token) : null,
    at: isHeld ? form.formatInstant(one.heldMs) : null,
    cause: one.lastCause,
  };
}
