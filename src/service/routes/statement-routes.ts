import { z } from 'zod';
import type { KeptStatement, StatementOrder } from '../../archive/index.ts';
import { admitStatement, draftStatement, saidIn } from '../../archive/index.ts';
import { formatBase64, parseBase64 } from '../../ledger/index.ts';
import { Refusal } from '../../model/index.ts';
import { parseStatement, sayStatement, statementBytes } from '../../sealing/index.ts';
import { followStatement } from '../follow.ts';
import { bytes, json } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';
import { sliceOf } from './slice.ts';

const KINDS = ['key-confirmation', 'sign-off', 'ruling', 'release', 'revocation', 'withdrawal', 'replacement'] as const;
const BASE64_CHARACTERS = 3 * 2 ** 20;
const MOST_FINDINGS = 5000;

const base64 = z.string().max(BASE64_CHARACTERS).meta({ description: 'base64' });
const signWith = form.sha256.optional().meta({ description: 'the certificate; without it, the latest that will do' });
const onFile = { file: form.id, signWith };
const reason = z.string().min(1).max(1000);

const order = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('key-confirmation'), certificate: form.sha256, signWith }),
    z.strictObject({ kind: z.literal('sign-off'), ...onFile }),
    z.strictObject({
      kind: z.literal('ruling'),
      report: form.id,
      findings: z.array(form.id).min(1).max(MOST_FINDINGS),
      decision: z.enum(['agreed', 'to-be-put-right']),
      account: z.enum(['authors-alteration', 'printers-error', 'shared', 'not-settled']),
      signWith,
    }),
    z.strictObject({ kind: z.literal('release'), ...onFile }),
    z.strictObject({
      kind: z.literal('revocation'),
      certificate: form.sha256,
      reason,
      from: z.string().max(40).optional(),
      signWith,
    }),
    z.strictObject({ kind: z.literal('withdrawal'), ...onFile, reason }),
    z.strictObject({ kind: z.literal('replacement'), ...onFile, reason }),
  ])
  .meta({ id: 'StatementOrder' });

const draft = z
  .object({
    statement: z.looseObject({ kind: z.enum(KINDS) }).meta({ description: 'as it will be signed' }),
    content: z.string().meta({ description: 'base64 of the exact bytes to sign' }),
    says: z.array(z.string()).meta({ description: 'the same in full sentences' }),
  })
  .meta({ id: 'Draft' });

const statement = z
  .object({
    id: form.sha256,
    kind: z.enum(KINDS),
    part: form.id.nullable(),
    certificate: form.sha256,
    logIndex: z.int(),
    at: form.instant,
    statement: z.looseObject({ kind: z.enum(KINDS) }),
    says: z.array(z.string()),
    content: z.string().meta({ description: 'base64 of the bytes that were signed' }),
    seal: z.string().meta({ description: 'base64 of the detached CMS signature' }),
  })
  .meta({ id: 'Statement' });

const ofTitle = z.strictObject({ titleId: form.id });
const oneOfTitle = z.strictObject({ titleId: form.id, statementId: form.id });
const LOOKING = { may: 'standing', on: 'title', right: 'look' } as const;
const SIGNING = { may: 'standing', on: 'title', right: 'sign' } as const;

/**
 * Statements: drafted here, signed by their owners elsewhere, taken into the log here.
 *
 * @throws {Refusal} not-found, malformed: a statement of another title, or none
 */
export const statementRoutes = [
  route({
    method: 'post',
    path: '/api/titles/{titleId}/drafts',
    name: 'draftStatement',
    says: 'A statement as it may be signed now. Nothing is kept of it; signed, it comes back within the hour.',
    who: SIGNING,
    params: ofTitle,
    body: { json: order },
    answers: { 200: { says: 'the draft', json: draft } },
    answer: async ({ titleId, body, actor, at, tools }) => {
      const drafted = await draftStatement(tools.archive, actor, orderOf(titleId, body), at);
      if (drafted.title.id !== titleId) throw new Refusal('not-found', { what: 'file' });
      const content = formatBase64(statementBytes(drafted));
      return json({ statement: drafted, content, says: sayStatement(drafted) }, 200, { 'Cache-Control': 'no-store' });
    },
  }),
  route({
    method: 'post',
    path: '/api/titles/{titleId}/statements',
    name: 'admitStatement',
    says: 'Takes a signed statement into the log, if all of it holds.',
    who: SIGNING,
    params: ofTitle,
    body: { json: z.strictObject({ content: base64, seal: base64 }) },
    answers: { 201: { says: 'taken', json: statement } },
    answer: async ({ titleId, body, actor, at, tools }) => {
      const signed = {
        content: parseBase64(body.content, '/body/content'),
        seal: parseBase64(body.seal, '/body/seal'),
      };
      const named = parseStatement(signed.content).title.id;
      if (named !== titleId) {
        throw new Refusal('malformed', { pointer: '/body/content/title/id', expected: titleId, found: named });
      }
      const kept = await admitStatement(tools.archive, actor, signed, at);
      await followStatement(kept, tools);
      return json(shownStatement(kept), 201, { Location: `/api/titles/${titleId}/statements/${kept.id}` });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/statements',
    name: 'listStatements',
    says: 'What was stated on a title, in the order of the log.',
    who: LOOKING,
    params: ofTitle,
    query: form.page,
    answers: { 200: { says: 'them', json: form.listOf(statement) } },
    answer: async ({ titleId, query, tools }) => {
      const { items, next } = sliceOf(await tools.archive.catalogue.statements.ofTitle(titleId), query);
      return json({ items: items.map(shownStatement), next });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/statements/{statementId}',
    name: 'readStatement',
    says: 'One statement.',
    who: LOOKING,
    params: oneOfTitle,
    answers: { 200: { says: 'it', json: statement } },
    answer: async ({ titleId, params, tools }) =>
      json(shownStatement(await requireOf(titleId, params.statementId, tools.archive.catalogue.statements))),
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/statements/{statementId}/content',
    name: 'readStatementContent',
    says: 'The exact bytes that were signed: canonical JSON (RFC 8785).',
    who: LOOKING,
    params: oneOfTitle,
    answers: { 200: { says: 'them', bytes: ['application/octet-stream'] } },
    answer: async ({ titleId, params, tools }) => {
      const kept = await requireOf(titleId, params.statementId, tools.archive.catalogue.statements);
      return bytes(once(kept.bytes), 'application/octet-stream', { 'Content-Length': String(kept.bytes.length) });
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/statements/{statementId}/seal',
    name: 'readStatementSeal',
    says: 'Its detached signature (CMS, RFC 5652).',
    who: LOOKING,
    params: oneOfTitle,
    answers: { 200: { says: 'it', bytes: ['application/pkcs7-signature'] } },
    answer: async ({ titleId, params, tools }) => {
      const { signature } = await requireOf(titleId, params.statementId, tools.archive.catalogue.statements);
      return bytes(once(signature), 'application/pkcs7-signature', { 'Content-Length': String(signature.length) });
    },
  }),
];

function orderOf(titleId: string, told: z.infer<typeof order>): StatementOrder {
  const own = told.signWith === undefined ? {} : { signWith: told.signWith };
  switch (told.kind) {
    case 'key-confirmation':
      return { kind: told.kind, titleId, certificate: told.certificate, ...own };
    case 'revocation': {
      const { kind, certificate, reason: why, from } = told;
      return { kind, titleId, certificate, reason: why, ...(from === undefined ? {} : { from }), ...own };
    }
    case 'ruling': {
      const { kind, report: reportId, findings, decision, account } = told;
      return { kind, reportId, findings, decision, account, ...own };
    }
    case 'withdrawal':
    case 'replacement':
      return { kind: told.kind, fileId: told.file, reason: told.reason, ...own };
    default:
      return { kind: told.kind, fileId: told.file, ...own };
  }
}

async function requireOf(
  titleId: string,
  id: string,
  statements: { get(id: string): Promise<KeptStatement | null> },
): Promise<KeptStatement> {
  const kept = await statements.get(id);
  if (kept?.titleId !== titleId) throw new Refusal('not-found', { what: 'statement' });
  return kept;
}

async function* once(all: Uint8Array): AsyncGenerator<Uint8Array> {
  yield all;
}

function shownStatement(kept: KeptStatement): unknown {
  const said = saidIn(kept);
  return {
    id: kept.id,
    kind: kept.kind,
    part: kept.partId,
    certificate: kept.certificate,
    logIndex: kept.logIndex,
    at: form.formatInstant(kept.atMs),
    statement: said,
    says: sayStatement(said),
    content: formatBase64(kept.bytes),
    seal: formatBase64(kept.signature),
  };
}
