import { z } from 'zod';
import { confirmFolding, sayFoldingAgain } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { json } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';

const ofFile = z.strictObject({ fileId: form.id });
const SENDING = { may: 'standing', on: 'file', right: 'send-files' } as const;

const told = z
  .object({ folding: form.saidFolding, saidAgain: z.int().meta({ description: 'how often, after they were sent' }) })
  .meta({ id: 'FoldingSaid' });

const confirmed = z.object({ by: form.person.omit({ rights: true }), at: form.instant }).meta({ id: 'Confirmed' });

/**
 * How sheets fold, once they are there: said again where it was found or said otherwise, or confirmed as it was found.
 *
 * @throws {Refusal} not-allowed: the printer’s side alone
 * @throws {Refusal} malformed: nothing is said
 */
export const foldingRoutes = [
  route({
    method: 'post',
    path: '/api/files/{fileId}/folding',
    name: 'sayFoldingAgain',
    says: 'Says of sheets that were sent how they fold, in place of what was said or found: they are checked again by it. For the printer alone. What was signed stays on the report that it was signed on.',
    who: SENDING,
    params: ofFile,
    body: { json: z.strictObject(form.foldingFields) },
    answers: { 201: { says: 'said; the check runs', json: told } },
    answer: async ({ params, body, actor, at, tools }) => {
      const folding = form.foldingIn(body, '/body');
      if (folding === null) {
        throw new Refusal('malformed', { pointer: '/body', expected: 'a plan or folds', found: 'neither' });
      }
      const { archive, tolerances } = tools;
      const said = await sayFoldingAgain(archive, actor, { fileId: params.fileId, folding, tolerances }, at);
      tools.nudge();
      const { part, file } = said;
      const data = { saidAgain: file.foldingNumber };
      tools.activity.tell({ what: 'folded', titleId: part.titleId, partId: part.id, fileId: file.id, data });
      return json({ folding: file.folding, saidAgain: file.foldingNumber }, 201);
    },
  }),
  route({
    method: 'post',
    path: '/api/files/{fileId}/folding/confirmation',
    name: 'confirmFolding',
    says: 'Confirms the plan that was found from the sheets of a file, as it was looked at. For the printer alone.',
    who: SENDING,
    params: ofFile,
    body: { json: z.strictObject({ plan: form.sha256.meta({ description: 'the `foldingPlan` of its sheets' }) }) },
    answers: { 201: { says: 'confirmed, by whoever did so first', json: confirmed } },
    answer: async ({ params, body, actor, at, tools }) => {
      const { catalogue } = tools.archive;
      const { personId, atMs } = await confirmFolding(tools.archive, actor, { ...params, plan: body.plan }, at);
      const person = await catalogue.people.get(personId);
      const by = { id: personId, name: person?.name ?? '', party: person?.partyId ?? '' };
      return json({ by, at: form.formatInstant(atMs) }, 201);
    },
  }),
];
