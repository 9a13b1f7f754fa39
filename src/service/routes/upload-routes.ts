import { z } from 'zod';
import type { ToldOfUpload, Upload } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { followFile } from '../follow.ts';
import { problem } from '../problems.ts';
import type { Answer } from '../table/answer.ts';
import { json, nothing, refuse } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import { bytesOf, readPart } from '../table/read-parts.ts';
import * as form from './forms.ts';

const VERSION = '1.0.0';
const OFFSET_TYPE = 'application/offset+octet-stream';

const TUS_HEADERS = { 'Tus-Resumable': `the version of the protocol: ${VERSION}` };

const upload = z
  .object({
    id: form.id,
    part: form.id,
    bytes: z.int(),
    arrived: z.int(),
    state: z.enum(['arriving', 'whole', 'received', 'refused', 'given-up']),
    file: form.id.nullable().meta({ description: 'the file that it became' }),
    cause: z.string().nullable().meta({ description: 'why it was refused' }),
  })
  .meta({ id: 'Upload' });

/** What Upload-Metadata tells. */
const metadata = z.strictObject({
  part: form.id,
  kind: form.fileKind,
  filename: form.fileName,
  remark: form.remark.default(''),
  pages: form.pageRanges.nullable().default(null),
  sha256: form.sha256.nullable().default(null),
  ...form.foldingFields,
});

const own = z.strictObject({ uploadId: form.id });

/**
 * Files in pieces, by the open tus protocol 1.0.0: its core, creation and termination.
 *
 * @throws {Refusal} malformed, not-found: a header that does not fit, an upload that was given up
 */
export const uploadRoutes = [
  route({
    method: 'options',
    path: '/api/uploads',
    name: 'askUploads',
    says: 'What of the tus protocol is spoken here.',
    who: { may: 'anybody' },
    answers: { 204: { says: 'in headers' } },
    answer: async ({ tools }) =>
      nothing(204, {
        'Tus-Version': VERSION,
        'Tus-Extension': 'creation,termination',
        'Tus-Max-Size': String(tools.configuration.uploadBytes),
      }),
  }),
  route({
    method: 'post',
    path: '/api/uploads',
    name: 'beginUpload',
    says: 'Begins a file that is sent in pieces. Upload-Metadata tells `part`, `kind`, `filename` and, if it applies, `remark`, `pages` (“12-13, 20”) and `sha256`; of sheets also how they fold: `plan`, or `fold`, `bound` and `working`.',
    who: { may: 'signed-in' },
    headers: {
      ...TUS_HEADERS,
      'Upload-Length': 'bytes of the whole file',
      'Upload-Metadata': 'keys and base64 of their values, as the protocol has it',
    },
    answers: { 201: { says: 'begun', headers: { Location: 'where to send the bytes' } } },
    answer: async ({ request, actor, tools }) => {
      const unfit = unfitVersion(request.headers['tus-resumable']);
      if (unfit !== null) return unfit;
      const bytes = requireCount(request.headers['upload-length'], 'Upload-Length');
      const told = readPart(metadata, parseMetadata(request.headers['upload-metadata']), '/header/Upload-Metadata');
      const { id, arrived } = await tools.uploads.begin(actor, told.part, toldOf(told), bytes);
      tools.expectFile(told.part);
      return nothing(201, { Location: `/api/uploads/${id}`, 'Upload-Offset': String(arrived) });
    },
  }),
  route({
    method: 'head',
    path: '/api/uploads/{uploadId}',
    name: 'askUpload',
    says: 'Where an upload of this person goes on. A line that it still hangs on is cut off.',
    who: { may: 'signed-in' },
    params: own,
    headers: TUS_HEADERS,
    answers: {
      200: { says: 'in headers', headers: { 'Upload-Offset': 'bytes that are safe', 'Upload-Length': 'of all' } },
    },
    answer: async ({ params, request, actor, tools }) => {
      const unfit = unfitVersion(request.headers['tus-resumable']);
      if (unfit !== null) return unfit;
      const found = await tools.uploads.comeBack(actor, params.uploadId);
      if (found.state === 'given-up') throw new Refusal('not-found', { what: 'upload' });
      return nothing(200, {
        'Upload-Offset': String(found.arrived),
        'Upload-Length': String(found.bytes),
        'Cache-Control': 'no-store',
      });
    },
  }),
  route({
    method: 'get',
    path: '/api/uploads/{uploadId}',
    name: 'readUpload',
    says: 'Where an upload of this person stands, and which file it became.',
    who: { may: 'signed-in' },
    params: own,
    answers: { 200: { says: 'it', json: upload } },
    answer: async ({ params, actor, tools }) => json(shownUpload(await tools.uploads.look(actor, params.uploadId))),
  }),
  route({
    method: 'patch',
    path: '/api/uploads/{uploadId}',
    name: 'continueUpload',
    says: 'The next bytes. With the last one it becomes a file of its part, before this answers.',
    who: { may: 'signed-in' },
    params: own,
    headers: { ...TUS_HEADERS, 'Upload-Offset': 'at which byte the body begins' },
    body: { streamed: { [OFFSET_TYPE]: { says: 'bytes' } } },
    answers: { 204: { says: 'they are safe', headers: { 'Upload-Offset': 'bytes that are safe' } } },
    answer: async ({ params, request, actor, tools }) => {
      const unfit = unfitVersion(request.headers['tus-resumable']);
      if (unfit !== null) return unfit;
      const offset = requireCount(request.headers['upload-offset'], 'Upload-Offset');
      tools.expectFile(null);
      const { arrived, fileId } = await tools.uploads.append(actor, params.uploadId, offset, bytesOf(request));
      const file = fileId === null ? null : await tools.archive.catalogue.files.get(fileId);
      if (file !== null) await followFile(file, tools);
      return nothing(204, { 'Upload-Offset': String(arrived) });
    },
  }),
  route({
    method: 'delete',
    path: '/api/uploads/{uploadId}',
    name: 'giveUpload',
    says: 'Gives up an upload that is not complete.',
    who: { may: 'signed-in' },
    params: own,
    headers: TUS_HEADERS,
    answers: { 204: { says: 'its bytes are thrown away' } },
    answer: async ({ params, actor, tools }) => {
      await tools.uploads.giveUp(actor, params.uploadId);
      return nothing();
    },
  }),
];

function unfitVersion(told: string | string[] | undefined): Answer | null {
  if (told === VERSION) return null;
  return refuse(
    problem('condition-failed', `Tus-Resumable: ${VERSION} is spoken here`, {}, { 'Tus-Version': VERSION }),
  );
}

function requireCount(told: string | string[] | undefined, header: string): number {
  const count = typeof told === 'string' && /^\d{1,15}$/.test(told) ? Number(told) : -1;
  if (count >= 0) return count;
  const found = told === undefined ? 'nothing' : JSON.stringify(told).slice(0, 80);
  throw new Refusal('malformed', { pointer: `/header/${header}`, expected: 'a number of bytes', found });
}

/** Keys with the base64 of their values, by commas, as the tus protocol has it. */
function parseMetadata(told: string | string[] | undefined): Readonly<Record<string, string>> {
  const pairs = typeof told === 'string' && told.trim() !== '' ? told.split(',') : [];
  return Object.fromEntries(
    pairs.map((pair) => {
      const [key = '', value = ''] = pair.trim().split(/ +/);
      return [key, Buffer.from(value, 'base64').toString('utf8')];
    }),
  );
}

function toldOf({ kind, filename, remark, pages, sha256, ...more }: z.infer<typeof metadata>): ToldOfUpload {
  const folding = form.foldingIn(more, '/header/Upload-Metadata');
  return { kind, name: filename, remark, replaces: pages, folding, sha256 };
}

function shownUpload({ id, partId, bytes, arrived, state, fileId, cause }: Upload): unknown {
  return { id, part: partId, bytes, arrived, state, file: fileId, cause };
}
