import type { Request } from 'express';
import { z } from 'zod';
import type { SentFile, ToldOfUpload } from '../../archive/index.ts';
import { requireFile, sendAtOnce, signedHashOf } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { formatContentDigest, parseContentDigest } from '../content-digest.ts';
import { followFile } from '../follow.ts';
import { json } from '../table/answer.ts';
import type { Answer } from '../table/answer.ts';
import { blobAnswer } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import { readForm } from '../table/multipart.ts';
import { bytesOf, readPart } from '../table/read-parts.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';

const range = z.object({ first: z.int(), last: z.int() });

const file = z
  .object({
    id: form.id,
    part: form.id,
    position: z.int().meta({ description: 'in order of arrival within the part, from 1' }),
    kind: form.fileKind,
    revisionNumber: z.int().nullable(),
    name: form.fileName,
    remark: form.remark,
    replaces: z.object({ file: form.id, pages: z.array(range) }).nullable(),
    folding: form.saidFolding.nullable().meta({
      description: 'how its sheets fold, as its sender said, or the printer after it; null where nobody said',
    }),
    sender: form.person.omit({ rights: true }),
    sha256: form.sha256,
    signedAs: form.sha256.nullable().meta({
      description:
        'the hash under which statements name it: its own, or that of its list of pages where they are laid over another file; null until it was read',
    }),
    at: form.instant,
  })
  .meta({ id: 'File' });

const told = z.strictObject({
  kind: form.fileKind,
  remark: form.remark.default(''),
  pages: form.pageRanges.nullable().default(null),
  ...form.foldingFields,
});

const toldInForm = told.extend({
  name: form.fileName.optional(),
  sha256: form.sha256.nullable().default(null),
});

const SENDING = { may: 'standing', on: 'part', right: 'send-files' } as const;
const ofPart = z.strictObject({ partId: form.id });
const ofFile = z.strictObject({ fileId: form.id });

/** Files of a part: sent in one go, listed, read again. */
export const fileRoutes = [
  route({
    method: 'post',
    path: '/api/parts/{partId}/files',
    name: 'sendForm',
    says: 'Sends a file as a form. The fields come before the file.',
    who: SENDING,
    params: ofPart,
    body: {
      streamed: {
        'multipart/form-data': {
          says: 'fields, then the file',
          form: toldInForm.extend({ file: z.string().meta({ format: 'binary' }) }),
        },
      },
    },
    answers: { 201: { says: 'received', json: file }, 200: { says: 'it was the last file already', json: file } },
    answer: async ({ params, request, actor, tools }) =>
      readForm(request, async ({ fields, fileName, bytes }) => {
        tools.expectFile(params.partId);
        const { kind, remark, pages, sha256, name = fileName, ...more } = readPart(toldInForm, fields, '/body');
        const folding = form.foldingIn(more, '/body');
        const said = { kind, name, remark, replaces: pages, folding, sha256 };
        return answerSent(await sendAtOnce(tools.archive, actor, params.partId, said, bytes, limitsOf(tools)), tools);
      }),
  }),
  route({
    method: 'put',
    path: '/api/parts/{partId}/files/{name}',
    name: 'sendRaw',
    says: 'Sends a file as it is. Sent again exactly as the last file of the part, it is that file.',
    who: SENDING,
    params: z.strictObject({ partId: form.id, name: form.fileName }),
    query: told,
    headers: { 'Content-Digest': 'sha-256=:…: of the body (RFC 9530)' },
    body: {
      streamed: {
        'application/pdf': { says: 'a PDF' },
        'application/zip': { says: 'TIFF plates' },
        'image/tiff': { says: 'one plate' },
        'application/octet-stream': { says: 'the same' },
        '': { says: 'the same' },
      },
    },
    answers: { 201: { says: 'received', json: file }, 200: { says: 'it was the last file already', json: file } },
    answer: async ({ params, query, request, actor, tools }) => {
      const sha256 = digestOf(request);
      tools.expectFile(params.partId);
      const { kind, remark, pages: replaces, ...more } = query;
      const folding = form.foldingIn(more, '/query');
      const said: ToldOfUpload = { kind, name: params.name, remark, replaces, folding, sha256 };
      return answerSent(
        await sendAtOnce(tools.archive, actor, params.partId, said, bytesOf(request), limitsOf(tools)),
        tools,
      );
    },
  }),
  route({
    method: 'get',
    path: '/api/parts/{partId}/files',
    name: 'listFiles',
    says: 'Every file of a part, in order of arrival.',
    who: { may: 'standing', on: 'part', right: 'look' },
    params: ofPart,
    answers: { 200: { says: 'them', json: form.listOf(file) } },
    answer: async ({ params, tools }) => {
      const all = await tools.archive.catalogue.files.ofPart(params.partId);
      return json({ items: await Promise.all(all.map((one) => shownFile(one, tools))), next: null });
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}',
    name: 'readFile',
    says: 'A file, as it was sent.',
    who: { may: 'standing', on: 'file', right: 'look' },
    params: ofFile,
    answers: { 200: { says: 'it', json: file } },
    answer: async ({ params, actor, tools }) => {
      const found = await requireFile(tools.archive.catalogue, actor, params.fileId);
      return json(await shownFile(found.file, tools));
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/content',
    name: 'readContent',
    says: 'The bytes of a file, or a range of them.',
    who: { may: 'standing', on: 'file', right: 'look' },
    params: ofFile,
    headers: { Range: 'bytes=first-last' },
    answers: {
      200: { says: 'all of it', bytes: ['application/octet-stream'], headers: { 'Content-Digest': 'RFC 9530' } },
      206: { says: 'the range', bytes: ['application/octet-stream'] },
    },
    answer: async ({ params, actor, tools, request }) => {
      const { file: found } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      return blobAnswer(tools.archive.blobs, found.sha256, request, {
        mediaType: 'application/octet-stream',
        name: found.name,
      });
    },
  }),
];

function limitsOf({ configuration, now }: ServiceTools) {
  return { mostBytes: configuration.uploadBytes, now };
}

function digestOf(request: Request): string {
  const header = request.headers['content-digest'];
  return parseContentDigest(typeof header === 'string' ? header : undefined);
}

async function answerSent(
  sent: { readonly file: SentFile; readonly isNew: boolean },
  tools: ServiceTools,
): Promise<Answer> {
  if (sent.isNew) await followFile(sent.file, tools);
  const headers = { Location: `/api/files/${sent.file.id}`, 'Repr-Digest': formatContentDigest(sent.file.sha256) };
  return json(await shownFile(sent.file, tools), sent.isNew ? 201 : 200, headers);
}

async function shownFile(one: SentFile, { archive }: ServiceTools): Promise<unknown> {
  const { id, partId, position, kind, revisionNumber, name, remark, replaces, folding, senderId, sha256, atMs } = one;
  const sender = await archive.catalogue.people.get(senderId);
  return {
    id,
    part: partId,
    position,
    kind,
    revisionNumber,
    name,
    remark,
    replaces: replaces && { file: replaces.fileId, pages: replaces.pages },
    folding,
    sender: { id: senderId, name: sender?.name ?? '', party: sender?.partyId ?? '' },
    sha256,
    signedAs: await signedAs(one, archive),
    at: form.formatInstant(atMs),
  };
}

/** Pages that do not fit over the file below are told by the job that read them; a list is shown all the same. */
async function signedAs(one: SentFile, { catalogue }: ServiceTools['archive']): Promise<string | null> {
  try {
    return await signedHashOf(catalogue, one);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
