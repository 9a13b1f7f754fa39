import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { DummyState, ReleaseState, Signature } from '../../archive/index.ts';
import {
  formatAccountsCsv,
  pageHistory,
  partState,
  recordExport,
  requireFile,
  requireStanding,
  titleAccounts,
} from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { json, text } from '../table/answer.ts';
import { disposition } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';
import { pictureAddress } from './picture-address.ts';

const signature = z
  .object({ party: z.enum(['publisher', 'printer']), statement: form.sha256, logIndex: z.int(), at: form.instant })
  .meta({ id: 'Signature' });

const dummy = z
  .object({
    file: form.id,
    standing: z.enum(['sent', 'half-signed', 'in-force', 'replaced', 'withdrawn']),
    signatures: z.array(signature),
  })
  .meta({ id: 'Dummy' });

const release = z
  .object({
    file: form.id,
    dummy: form.id,
    report: form.id,
    rulings: z.array(form.sha256),
    signatures: z.array(signature),
    inForce: z.boolean(),
    onDummyInForce: z.boolean(),
  })
  .meta({ id: 'Release' });

const state = z
  .object({
    dummies: z.array(dummy),
    inForce: form.id.nullable(),
    replacements: z.array(form.id),
    releases: z.array(release),
  })
  .meta({ id: 'PartState' });

const counts = z.object({
  'authors-alteration': z.int(),
  'printers-error': z.int(),
  shared: z.int(),
  'not-settled': z.int(),
});

const accounts = z
  .object({
    lines: z.array(z.looseObject({ part: form.id, finding: form.id, says: z.string(), account: z.string() })),
    total: counts,
    byPage: z.array(z.object({ partName: z.string(), page: z.int().nullable(), counts })),
    byFile: z.array(z.object({ partName: z.string(), file: form.id, fileName: z.string(), counts })),
  })
  .meta({ id: 'Accounts' });

const history = z
  .object({
    file: form.id,
    state: z.string(),
    pageNumber: z.int().nullable(),
    contentHash: form.sha256.nullable(),
    picture: z.string().nullable(),
  })
  .meta({ id: 'PageInFile' });

const LOOKING_AT_TITLE = { may: 'standing', on: 'title', right: 'look' } as const;
const ofTitle = z.strictObject({ titleId: form.id });

/**
 * What the statements on a part and a title have come to.
 *
 * @throws {Refusal} not-found: a page that is none
 */
export const partRoutes = [
  route({
    method: 'get',
    path: '/api/parts/{partId}/state',
    name: 'readPartState',
    says: 'How a part stands: its dummies and who signed them, the one in force, its releases.',
    who: { may: 'standing', on: 'part', right: 'look' },
    params: z.strictObject({ partId: form.id }),
    answers: { 200: { says: 'it', json: state } },
    answer: async ({ params, tools }) => {
      const found = await partState(tools.archive.catalogue, params.partId);
      return json({
        dummies: found.dummies.map(shownDummy),
        inForce: found.inForce?.file.id ?? null,
        replacements: found.replacements.map(({ file }) => file.id),
        releases: found.releases.map(shownRelease),
      });
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/pages/{pageNumber}/history',
    name: 'readPageHistory',
    says: 'What became of a page of a dummy in every later file.',
    who: { may: 'standing', on: 'file', right: 'look' },
    params: z.strictObject({ fileId: form.id, pageNumber: form.pageNumber }),
    answers: { 200: { says: 'the dummy’s page, then each file’s', json: form.listOf(history) } },
    answer: async ({ params, actor, tools }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const all = await pageHistory(tools.archive, file, params.pageNumber);
      if (all.length === 0) throw new Refusal('not-found', { what: 'page' });
      const items = all.map(({ file: { id }, ...one }) => {
        const { pageNumber, contentHash } = one;
        const isThere = pageNumber !== null && contentHash !== null;
        return { ...one, file: id, picture: isThere ? pictureAddress(id, pageNumber, contentHash) : null };
      });
      return json({ items, next: null });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/accounts',
    name: 'readAccounts',
    says: 'Settled findings by account, page and file, for the invoice.',
    who: LOOKING_AT_TITLE,
    params: ofTitle,
    answers: { 200: { says: 'them', json: accounts } },
    answer: async ({ titleId, actor, tools }) => {
      const { title } = await requireStanding(tools.archive.catalogue, actor, titleId);
      const { lines, byPage, byFile, total } = await titleAccounts(tools.archive.catalogue, title);
      return json({
        lines: lines.map(({ partId, findingId, fileId, ...line }) => ({
          ...line,
          part: partId,
          finding: findingId,
          file: fileId,
        })),
        total,
        byPage,
        byFile: byFile.map(({ fileId, ...line }) => ({ ...line, file: fileId })),
      });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/accounts.csv',
    name: 'readAccountsTable',
    says: 'The same lines as a table. It goes on its own way, so the log gets an entry.',
    who: LOOKING_AT_TITLE,
    params: ofTitle,
    answers: { 200: { says: 'RFC 4180', bytes: ['text/csv'] } },
    answer: async ({ titleId, actor, at, tools, request }) => {
      const { title } = await requireStanding(tools.archive.catalogue, actor, titleId);
      const { lines } = await titleAccounts(tools.archive.catalogue, title);
      const table = formatAccountsCsv(lines);
      const sha256 = createHash('sha256').update(table).digest('hex');
      const order = { titleId, subjects: [{ what: 'accounts', id: titleId, sha256 }], remark: 'accounts' };
      if (request.method !== 'HEAD') await recordExport(tools.archive, actor, order, at);
      const headers = { 'Content-Disposition': disposition(`${title.name}.csv`), 'Cache-Control': 'private, no-store' };
      return text(table, 'text/csv', headers);
    },
  }),
];

function shownSignature({ party, statementId, logIndex, atMs }: Signature): unknown {
  return { party, statement: statementId, logIndex, at: form.formatInstant(atMs) };
}

function shownDummy({ file, standing, signatures }: DummyState): unknown {
  return { file: file.id, standing, signatures: signatures.map(shownSignature) };
}

function shownRelease(one: ReleaseState): unknown {
  const { fileId, dummyId, reportId, rulings, signatures, isInForce, isOnDummyInForce } = one;
  return {
    file: fileId,
    dummy: dummyId,
    report: reportId,
    rulings,
    signatures: signatures.map(shownSignature),
    inForce: isInForce,
    onDummyInForce: isOnDummyInForce,
  };
}
