import { z } from 'zod';
import type { Actor } from '../../archive/index.ts';
import { fileFindings, recordExport, requireFile } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { exportEvidencePack, makeEvidencePack, printCopyOf, signedCopyOf } from '../../reporting/index.ts';
import type { MadeCopy } from '../../reporting/index.ts';
import { bytes } from '../table/answer.ts';
import type { Answer } from '../table/answer.ts';
import { disposition } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';

const LOOKING = { may: 'standing', on: 'file', right: 'look' } as const;
const ofFile = z.strictObject({ fileId: form.id });

const pack = z.strictObject({
  part: form.id.optional().meta({ description: 'only this part' }),
  page: form.pageNumber.optional().meta({ description: 'only this page of its dummy' }),
  contents: z.enum(['files', 'hashes']).default('files'),
  seen: z
    .string()
    .regex(/^\d{1,15}(,\d{1,15}){0,99}$/)
    .optional()
    .meta({
      description: 'sizes of heads that one remembers, as “12,40”: the pack proves that the log continues them',
    }),
});

/**
 * What is handed out and goes on its own way; of packs, copies and reports the log gets an entry each time.
 *
 * @throws {Refusal} out-of-step: a report on a file that was not compared yet
 */
export const exportRoutes = [
  route({
    method: 'get',
    path: '/api/titles/{titleId}/evidence',
    name: 'readEvidence',
    says: 'The evidence on a title, a part or a page, as a ZIP that verifies by itself.',
    who: { may: 'standing', on: 'title', right: 'look' },
    params: z.strictObject({ titleId: form.id }),
    query: pack,
    answers: { 200: { says: 'the pack', bytes: ['application/zip'] } },
    answer: async ({ titleId, query, actor, at, tools, request }) => {
      const { part: partId, page: dummyPage, contents, seen } = query;
      const seenSizes = seen?.split(',').map(Number) ?? [];
      const order = { titleId, scope: scopeOf(partId, dummyPage), contents, seenSizes, authorities: tools.authorities };
      // To ask for the headers alone takes nothing out.
      const make = request.method === 'HEAD' ? makeEvidencePack : exportEvidencePack;
      const made = await make(tools.archive, actor, order, at);
      return bytes(made.stream as AsyncIterable<Uint8Array>, 'application/zip', saved(made.name));
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/signed-copy',
    name: 'readSignedCopy',
    says: 'The signed copy of the dummy in force, sealed by the archive.',
    who: LOOKING,
    params: ofFile,
    answers: { 200: { says: 'PDF', bytes: ['application/pdf'] } },
    answer: async ({ params, actor, at, tools, request }) => {
      const made = await signedCopyOf({ ...tools.archive, copies: tools.copies }, actor, params.fileId, at);
      return handOut(
        made,
        { fileId: params.fileId, what: 'signed copy', isRead: request.method !== 'HEAD' },
        actor,
        tools,
      );
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/print-copy',
    name: 'readPrintCopy',
    says: 'The copy of a file that goes to paper, to be signed in ink.',
    who: LOOKING,
    params: ofFile,
    answers: { 200: { says: 'PDF', bytes: ['application/pdf'] } },
    answer: async ({ params, actor, at, tools, request }) => {
      const made = await printCopyOf({ ...tools.archive, copies: tools.copies }, actor, params.fileId, at);
      return handOut(
        made,
        { fileId: params.fileId, what: 'print copy', isRead: request.method !== 'HEAD' },
        actor,
        tools,
      );
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/report-pdf',
    name: 'readReportPdf',
    says: 'The newest report on a file as PDF, to be printed and filed. It is made when it is first asked for.',
    who: LOOKING,
    params: ofFile,
    answers: { 200: { says: 'PDF', bytes: ['application/pdf'] } },
    answer: async ({ params, actor, tools, request }) => {
      const { archive } = tools;
      const { title, file } = await requireFile(archive.catalogue, actor, params.fileId);
      const found = await fileFindings(archive, file.id);
      if (found === null) {
        throw new Refusal('out-of-step', { what: file.name, named: 'a report on it', current: 'not compared yet' });
      }
      const made = await tools.reportPdfs.reportPdf(found.report);
      if (request.method !== 'HEAD') {
        const subjects = [{ what: 'file', id: file.id, sha256: file.sha256 }];
        await recordExport(archive, actor, { titleId: title.id, subjects, remark: 'report' }, tools.now());
      }
      const name = `${file.name.replace(/\.pdf$/i, '')}, report.pdf`;
      return bytes(once(made), 'application/pdf', { 'Content-Length': String(made.length), ...saved(name) });
    },
  }),
];

function scopeOf(partId: string | undefined, dummyPage: number | undefined) {
  if (partId === undefined && dummyPage === undefined) return { kind: 'title' } as const;
  if (partId === undefined) {
    throw new Refusal('malformed', { pointer: '/query/part', expected: 'the part of the page', found: 'nothing' });
  }
  return dummyPage === undefined ? ({ kind: 'part', partId } as const) : ({ kind: 'page', partId, dummyPage } as const);
}

async function handOut(
  made: MadeCopy,
  { fileId, what, isRead }: { readonly fileId: string; readonly what: string; readonly isRead: boolean },
  actor: Actor,
  { archive, now }: ServiceTools,
): Promise<Answer> {
  try {
    const { title, file } = await requireFile(archive.catalogue, actor, fileId);
    const subjects = [{ what: 'file', id: file.id, sha256: file.sha256 }];
    if (isRead) await recordExport(archive, actor, { titleId: title.id, subjects, remark: what }, now());
    else await made.discard();
    const headers = {
      'Content-Length': String(made.bytes),
      ...saved(`${file.name.replace(/\.pdf$/i, '')}, ${what}.pdf`),
    };
    return bytes(made.stream(), 'application/pdf', headers);
  } catch (error) {
    await made.discard();
    throw error;
  }
}

function saved(name: string): Readonly<Record<string, string>> {
  return { 'Content-Disposition': disposition(name), 'Cache-Control': 'private, no-store' };
}

async function* once(all: Uint8Array): AsyncGenerator<Uint8Array> {
  yield all;
}
