import { z } from 'zod';
import { bringInParty, changeRights, takeInPerson } from '../../archive/index.ts';
import { newInvitation, requireMayInvite } from '../entrances/invitations.ts';
import { json } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';

const invitation = z
  .object({ secret: z.string().meta({ description: 'told once' }), until: form.instant })
  .meta({ id: 'Invitation', description: 'its link is /invitation#secret' });
const invited = z.object({ person: form.person, invitation });
const member = form.person.extend({ hasAccount: z.boolean() }).meta({ id: 'Member' });
const certified = form.name.max(64).meta({ description: 'as their certificates will have it' });

/** Parties and their people. */
export const peopleRoutes = [
  route({
    method: 'get',
    path: '/api/parties',
    name: 'listParties',
    says: 'The parties that one’s own may know of: itself, those with a title in common, those that one brought in the other.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'them', json: form.listOf(form.party) } },
    answer: async ({ actor, tools }) => {
      const known = await tools.archive.catalogue.parties.knownTo(actor.partyId);
      return json({ items: known.map(({ id, name }) => ({ id, name })), next: null });
    },
  }),
  route({
    method: 'post',
    path: '/api/parties',
    name: 'bringInParty',
    says: 'Brings a party in, with its first person, who may do everything for it. Needs the right to sign.',
    who: { may: 'signed-in' },
    body: { json: z.strictObject({ party: certified, person: certified }) },
    answers: { 201: { says: 'brought in, and invited', json: invited.extend({ party: form.party }) } },
    answer: async ({ body, actor, at, tools }) => {
      const { party, person } = await bringInParty(tools.archive, actor, body, at);
      const shown = { party: { id: party.id, name: party.name }, person: form.shownPerson(person) };
      return json({ ...shown, invitation: shownInvitation(await newInvitation(person.id, tools)) }, 201, UNKEPT);
    },
  }),
  route({
    method: 'get',
    path: '/api/people',
    name: 'listPeople',
    says: 'The people of one’s own party, what they may do, and whether they have come in yet.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'them', json: form.listOf(member) } },
    answer: async ({ actor, tools }) => {
      const { people, accounts } = tools.archive.catalogue;
      const items = (await people.ofParty(actor.partyId)).map(async (one) => ({
        ...form.shownPerson(one),
        hasAccount: (await accounts.ofPerson(one.id)) !== null,
      }));
      return json({ items: await Promise.all(items), next: null });
    },
  }),
  route({
    method: 'post',
    path: '/api/people',
    name: 'takeInPerson',
    says: 'Takes somebody into one’s own party. Needs the right to sign.',
    who: { may: 'signed-in' },
    body: { json: z.strictObject({ name: certified, rights: form.rights }) },
    answers: { 201: { says: 'taken in, and invited', json: invited } },
    answer: async ({ body, actor, at, tools }) => {
      const person = await takeInPerson(tools.archive, actor, body, at);
      const link = shownInvitation(await newInvitation(person.id, tools));
      return json({ person: form.shownPerson(person), invitation: link }, 201, UNKEPT);
    },
  }),
  route({
    method: 'put',
    path: '/api/people/{personId}/rights',
    name: 'changeRights',
    says: 'What somebody of one’s own party may do from now on. Needs the right to sign.',
    who: { may: 'signed-in' },
    params: z.strictObject({ personId: form.id }),
    body: { json: z.strictObject({ rights: form.rights }) },
    answers: { 200: { says: 'so it is', json: form.person } },
    answer: async ({ params, body, actor, at, tools }) =>
      json(form.shownPerson(await changeRights(tools.archive, actor, { ...params, ...body }, at))),
  }),
  route({
    method: 'post',
    path: '/api/people/{personId}/invitations',
    name: 'inviteAgain',
    says: 'Another link for somebody who has no account yet: of one’s own party, or of one that it brought in.',
    who: { may: 'signed-in' },
    params: z.strictObject({ personId: form.id }),
    answers: { 201: { says: 'invited', json: invitation } },
    answer: async ({ params, actor, tools }) => {
      await requireMayInvite(tools.archive.catalogue, actor, params.personId);
      return json(shownInvitation(await newInvitation(params.personId, tools)), 201, UNKEPT);
    },
  }),
];

/** A secret does not belong into a browser's store. */
const UNKEPT = { 'Cache-Control': 'no-store' };

function shownInvitation({ secret, untilMs }: { readonly secret: string; readonly untilMs: number }): unknown {
  return { secret, until: form.formatInstant(untilMs) };
}
