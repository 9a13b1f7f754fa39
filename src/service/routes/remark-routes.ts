import { z } from 'zod';
import type { KeptRemark } from '../../archive/index.ts';
import { sayOfFinding } from '../../archive/index.ts';
import { json } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';

const remark = z
  .object({
    logIndex: z.int().meta({ description: 'of its entry in the log' }),
    text: z.string(),
    by: form.person.omit({ rights: true }),
    at: form.instant,
  })
  .meta({ id: 'Remark' });

const ofFinding = z.strictObject({ findingId: form.id });

/**
 * What is said about findings: kept in the record, binding nobody.
 *
 * @throws {Refusal} malformed: nothing is said, or too much
 */
export const remarkRoutes = [
  route({
    method: 'get',
    path: '/api/findings/{findingId}/remarks',
    name: 'listRemarks',
    says: 'What was said about a finding, in order.',
    who: { may: 'standing', on: 'finding', right: 'look' },
    params: ofFinding,
    answers: { 200: { says: 'it', json: form.listOf(remark) } },
    answer: async ({ params, tools }) => {
      const all = await tools.archive.catalogue.remarks.onFinding(params.findingId);
      return json({ items: await Promise.all(all.map((one) => shownRemark(one, tools))), next: null });
    },
  }),
  route({
    method: 'post',
    path: '/api/findings/{findingId}/remarks',
    name: 'sayOfFinding',
    says: 'Says something about a finding. It stays in the record and binds nobody.',
    who: { may: 'standing', on: 'finding', right: 'send-files' },
    params: ofFinding,
    body: { json: z.strictObject({ text: z.string().max(8000) }) },
    answers: { 201: { says: 'said', json: remark } },
    answer: async ({ params, body, actor, at, tools }) => {
      const { title, part, ...said } = await sayOfFinding(tools.archive, actor, { ...params, text: body.text }, at);
      const about = { titleId: title.id, partId: part.id, fileId: null };
      tools.activity.tell({ what: 'remarked', ...about, data: { findingId: said.findingId } });
      return json(await shownRemark(said, tools), 201);
    },
  }),
];

async function shownRemark({ logIndex, text, personId, atMs }: KeptRemark, { archive }: ServiceTools) {
  const person = await archive.catalogue.people.get(personId);
  const by = { id: personId, name: person?.name ?? '', party: person?.partyId ?? '' };
  return { logIndex, text, by, at: form.formatInstant(atMs) };
}
