import { z } from 'zod';
import { givePlan, requireFile, sheetsOfFile } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { json } from '../table/answer.ts';
import { blobAnswer } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';

const given = z
  .object({
    plan: form.sha256.meta({ description: 'by which an upload names it' }),
    pages: z.int().meta({ description: 'of the book that it is a plan of' }),
    binding: form.binding,
    sheets: z.int(),
    sides: z.int().meta({ description: 'so many pages or sets of plates a file of its sheets has' }),
  })
  .meta({ id: 'GivenPlan' });

/** The form is small here, since the folding rules say more of a plan than a schema could. */
const plan = z
  .looseObject({ format: z.literal('witnessleaf-plan/1') })
  .meta({ id: 'FoldingPlan', description: 'which page stands where on each side of each sheet, in mm' });

/**
 * Folding plans: given to a part before its sheets are sent, and read back as the sheets were folded.
 *
 * @throws {Refusal} not-found: the file is no sheets, or was not taken apart yet
 */
export const planRoutes = [
  route({
    method: 'post',
    path: '/api/parts/{partId}/plans',
    name: 'givePlan',
    says: 'Gives a folding plan to a part, for sheets that are sent into it and name it. Refused where it is no sound plan, or of another number of pages than the part’s dummy.',
    who: { may: 'standing', on: 'part', right: 'send-files' },
    params: z.strictObject({ partId: form.id }),
    body: { json: plan },
    answers: { 201: { says: 'kept', json: given } },
    answer: async ({ params, body, actor, at, tools }) => {
      const order = { partId: params.partId, text: JSON.stringify(body) };
      const { sha256, plan: kept } = await givePlan(tools.archive, actor, order, at);
      const { pages, binding, sheets } = kept;
      const sides = sheets.reduce((sum, sheet) => sum + sheet.sides.length, 0);
      return json({ plan: sha256, pages, binding, sheets: sheets.length, sides }, 201);
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/plan',
    name: 'readPlan',
    says: 'The plan by which the sheets of a file were folded, with the pages where they were found; to be given the next time.',
    who: { may: 'standing', on: 'file', right: 'look' },
    params: z.strictObject({ fileId: form.id }),
    answers: { 200: { says: 'witnessleaf-plan/1', bytes: ['application/json'] } },
    answer: async ({ params, actor, tools, request }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const sheets = await sheetsOfFile(tools.archive, file);
      if (sheets === null) throw new Refusal('not-found', { what: 'sheets' });
      const name = `${file.name.replace(/\.[^.]*$/, '')} plan.json`;
      return blobAnswer(tools.archive.blobs, sheets.folded.plan, request, { mediaType: 'application/json', name });
    },
  }),
];
