import { z } from 'zod';
import type { FileFinding, Job, OpenFinding, RulingState, Word } from '../../archive/index.ts';
import {
  checkingState,
  fileFindings,
  releaseHindrances,
  requireFile,
  requireReport,
  rulingStates,
} from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { json } from '../table/answer.ts';
import { blobAnswer } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';
import { sliceOf } from './slice.ts';

const job = z
  .object({
    state: z.enum(['waiting', 'running', 'done', 'failed']),
    stage: z.string(),
    done: z.int(),
    total: z.int(),
    tries: z.int(),
    cause: z.string().nullable().meta({ description: 'of the last failure' }),
  })
  .nullable()
  .meta({ id: 'Job', description: 'null where it was not asked for yet' });

const checking = z.object({ reading: job, comparing: job, drawing: job }).meta({ id: 'Checking' });

const weight = z.enum(['stop', 'look', 'note']);

const word = z
  .object({ decision: z.string(), account: z.string(), statement: form.sha256, at: form.instant })
  .nullable()
  .meta({ id: 'Word' });

const ruling = z
  .object({ state: z.enum(['none', 'one-side', 'conflicting', 'settled']), publisher: word, printer: word })
  .meta({ id: 'Ruling' });

const finding = z
  .object({
    id: form.id.meta({ description: 'the same in every file in which it is found again' }),
    mark: z.string().meta({ description: 'its id in the report' }),
    weight,
    finding: z.looseObject({ kind: z.string(), says: z.string() }).meta({ description: 'as the report has it' }),
    firstFile: form.id.meta({ description: 'the file that introduced it' }),
    states: z.array(
      z.object({
        file: form.id,
        state: z.enum(['there', 'changed', 'gone', 'not-compared']),
        mark: z.string().nullable(),
      }),
    ),
    ruling,
    remarks: z.int().meta({ description: 'that were made on it' }),
  })
  .meta({ id: 'Finding' });

const findings = z
  .object({
    dummy: form.id,
    report: form.id,
    verdict: z.enum(['match', 'differs']),
    items: z.array(finding),
    next: z.string().nullable(),
  })
  .meta({ id: 'Findings' });

const hindrance = z.object({ finding: form.id, mark: z.string(), weight, ruling }).meta({ id: 'Hindrance' });

const exhibit = z
  .object({
    mark: z.string(),
    side: z.enum(['dummy', 'revision', 'difference']),
    region: z.object({ x: z.number(), y: z.number(), width: z.number(), height: z.number() }),
    widthPx: z.int(),
    heightPx: z.int(),
    picture: z.string(),
  })
  .meta({ id: 'Exhibit' });

const LOOKING = { may: 'standing', on: 'file', right: 'look' } as const;
const LOOKING_AT_REPORT = { may: 'standing', on: 'report', right: 'look' } as const;
const ofFile = z.strictObject({ fileId: form.id });
const ofReport = z.strictObject({ reportId: form.id });
const PICTURE = { mediaType: 'image/webp', name: null } as const;

/**
 * What came of a file: its jobs, what differs from the dummy, and the pictures of it.
 *
 * @throws {Refusal} out-of-step, not-found: what was not read or compared yet, a picture that is none
 */
export const checkingRoutes = [
  route({
    method: 'get',
    path: '/api/files/{fileId}/checking',
    name: 'readChecking',
    says: 'How far the reading, the comparison and the pictures of a file are.',
    who: LOOKING,
    params: ofFile,
    answers: { 200: { says: 'it', json: checking } },
    answer: async ({ params, actor, tools }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const { reading, comparing, drawing } = await checkingState(tools.archive.catalogue, file, tools.tolerances);
      return json({ reading: shownJob(reading), comparing: shownJob(comparing), drawing: shownJob(drawing) });
    },
  }),
  route({
    method: 'post',
    path: '/api/files/{fileId}/checking/retries',
    name: 'retryChecking',
    says: 'Has a failed job of a file tried again.',
    who: { may: 'standing', on: 'file', right: 'send-files' },
    params: ofFile,
    answers: { 200: { says: 'so it stands', json: checking } },
    answer: async ({ params, actor, at, tools }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const { jobs } = tools.archive.catalogue;
      const before = await checkingState(tools.archive.catalogue, file, tools.tolerances);
      for (const one of Object.values(before) as (Job | null)[]) {
        if (one?.state === 'failed') await jobs.retry(one.id, at);
      }
      tools.nudge();
      const { reading, comparing, drawing } = await checkingState(tools.archive.catalogue, file, tools.tolerances);
      return json({ reading: shownJob(reading), comparing: shownJob(comparing), drawing: shownJob(drawing) });
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/findings',
    name: 'listFindings',
    says: 'What differs from the dummy, who introduced it, and what the two sides say of it.',
    who: LOOKING,
    params: ofFile,
    query: form.page,
    answers: { 200: { says: 'of the newest report', json: findings } },
    answer: async ({ params, query, actor, tools }) => {
      const { part, file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const found = await fileFindings(tools.archive, params.fileId);
      if (found === null) {
        throw new Refusal('out-of-step', { what: file.name, named: 'its findings', current: 'not compared yet' });
      }
      const states = await rulingStates(tools.archive.catalogue, part.id, found.dummy.id);
      const remarks = await tools.archive.catalogue.remarks.countsOfPart(part.id);
      const { items, next } = sliceOf(found.findings, query);
      return json({
        dummy: found.dummy.id,
        report: found.report.id,
        verdict: found.report.verdict,
        items: items.map((one) => ({
          ...shownFinding(one, states.get(one.id) ?? NOTHING_RULED),
          remarks: remarks.get(one.id) ?? 0,
        })),
        next,
      });
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/hindrances',
    name: 'listHindrances',
    says: 'What stands in the way of the release of a plates input.',
    who: LOOKING,
    params: ofFile,
    answers: { 200: { says: 'nothing, where it may be released', json: form.listOf(hindrance) } },
    answer: async ({ params, tools }) => {
      const open = await releaseHindrances(tools.archive.catalogue, params.fileId);
      return json({ items: open.map(shownHindrance), next: null });
    },
  }),
  route({
    method: 'get',
    path: '/api/reports/{reportId}',
    name: 'readReport',
    says: 'A report as it was made and logged.',
    who: LOOKING_AT_REPORT,
    params: ofReport,
    answers: { 200: { says: 'its exact bytes', bytes: ['application/json'] } },
    answer: async ({ params, actor, tools, request }) => {
      const { report } = await requireReport(tools.archive.catalogue, actor, params.reportId);
      const terms = { mediaType: 'application/json', name: null, isLasting: true };
      return blobAnswer(tools.archive.blobs, report.sha256, request, terms);
    },
  }),
  route({
    method: 'get',
    path: '/api/reports/{reportId}/exhibits',
    name: 'listExhibits',
    says: 'The pictures that show the findings of a report.',
    who: LOOKING_AT_REPORT,
    params: ofReport,
    answers: { 200: { says: 'them', json: form.listOf(exhibit) } },
    answer: async ({ params, tools }) => {
      const all = await tools.archive.catalogue.pictures.exhibits(params.reportId);
      const items = all.map(({ mark, side, region, widthPx, heightPx }) => ({
        ...{ mark, side, region, widthPx, heightPx },
        picture: `/api/reports/${params.reportId}/exhibits/${encodeURIComponent(mark)}/${side}`,
      }));
      return json({ items, next: null });
    },
  }),
  route({
    method: 'get',
    path: '/api/reports/{reportId}/exhibits/{mark}/{side}',
    name: 'readExhibit',
    says: 'One of them.',
    who: LOOKING_AT_REPORT,
    params: ofReport.extend({ mark: form.id, side: z.enum(['dummy', 'revision', 'difference']) }),
    answers: { 200: { says: 'WebP', bytes: ['image/webp'] } },
    answer: async ({ params, tools, request }) => {
      const all = await tools.archive.catalogue.pictures.exhibits(params.reportId);
      const found = all.find(({ mark, side }) => mark === params.mark && side === params.side);
      if (found === undefined) throw new Refusal('not-found', { what: 'picture' });
      return blobAnswer(tools.archive.blobs, found.sha256, request, { ...PICTURE, isLasting: true });
    },
  }),
];

const NOTHING_RULED: RulingState = { state: 'none', publisher: null, printer: null };

function shownJob(one: Job | null): unknown {
  return one && { state: one.state, ...one.progress, tries: one.tries, cause: one.cause };
}

function shownFinding(
  { id, mark, weight: weighs, finding: found, firstFile, states }: FileFinding,
  ruled: RulingState,
) {
  return {
    ...{ id, mark, weight: weighs, finding: found },
    firstFile: firstFile.id,
    states: states.map(({ file, ...state }) => ({ ...state, file: file.id })),
    ruling: shownRuling(ruled),
  };
}

function shownHindrance({ findingId, mark, weight: weighs, ruling: ruled }: OpenFinding): unknown {
  return { finding: findingId, mark, weight: weighs, ruling: shownRuling(ruled) };
}

function shownRuling({ state, publisher, printer }: RulingState): unknown {
  const shown = (said: Word | null): unknown => {
    if (said === null) return null;
    const { decision, account, statementId, atMs } = said;
    return { decision, account, statement: statementId, at: form.formatInstant(atMs) };
  };
  return { state, publisher: shown(publisher), printer: shown(printer) };
}
