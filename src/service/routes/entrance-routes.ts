import { z } from 'zod';
import { Refusal } from '../../model/index.ts';
import { acceptInvitation, requireInvitation } from '../entrances/invitations.ts';
import { hashOfSecret, newSecret } from '../entrances/secret.ts';
import { sessionCookie } from '../entrances/session-cookie.ts';
import { openSession, personOfPassword } from '../entrances/sign-in.ts';
import type { Visitor } from '../entrances/visitor.ts';
import type { ServiceTools } from '../tools.ts';
import { json, nothing } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';

const DAY_MS = 86_400_000;

const signInName = form.name.meta({ description: 'large and small letters of ASCII are the same' });
const password = z.string().max(1000).meta({ description: '12 to 200 characters' });
const secret = z.string().min(1).max(200);
const me = z.object({ person: form.person, party: form.party }).meta({ id: 'Me' });
const token = z.object({ id: form.sha256, label: z.string(), made: form.instant, until: form.instant.nullable() });
const COOKIE = { 'Set-Cookie': 'the session, out of reach of scripts' };

/**
 * How people and machines come in and go: accounts, sessions, passwords, tokens.
 *
 * @throws {Refusal} not-allowed, not-found: a token that makes tokens, a token that is none
 */
export const entranceRoutes = [
  route({
    method: 'post',
    path: '/api/invitations/lookup',
    name: 'lookUpInvitation',
    says: 'Whom an invitation is for, before an account is made of it.',
    who: { may: 'anybody' },
    body: { json: z.strictObject({ invitation: secret }) },
    answers: {
      200: {
        says: 'it is good; `guest` is null where it makes the very first account',
        json: z.object({ guest: me.nullable(), until: form.instant.nullable() }),
      },
    },
    answer: async ({ body, at, tools }) => {
      const { entrance, guest } = await requireInvitation(body.invitation, at, tools.archive.catalogue);
      const shown = guest && { person: form.shownPerson(guest.person), party: named(guest.party) };
      return json({ guest: shown, until: momentOrNull(entrance.untilMs) });
    },
  }),
  route({
    method: 'post',
    path: '/api/accounts',
    name: 'makeAccount',
    says: 'Makes an account of an invitation and signs in. The invitation is used up.',
    who: { may: 'anybody' },
    body: {
      json: z.strictObject({
        invitation: secret,
        signInName,
        password,
        first: z
          .strictObject({ party: form.name, person: form.name })
          .optional()
          .meta({ description: 'for the very first account only' }),
      }),
    },
    answers: { 201: { says: 'made, and signed in', json: me, headers: COOKIE } },
    answer: async ({ body, tools }) => {
      const personId = await acceptInvitation(body, tools);
      return json(await meOf(personId, tools), 201, { 'Set-Cookie': await openSession(personId, tools) });
    },
  }),
  route({
    method: 'post',
    path: '/api/sessions',
    name: 'signIn',
    says: 'Signs a person in. Every refusal reads the same.',
    who: { may: 'anybody' },
    body: { json: z.strictObject({ signInName, password }) },
    answers: { 201: { says: 'signed in', json: me, headers: COOKIE } },
    answer: async ({ body, tools }) => {
      const personId = await personOfPassword(body.signInName, body.password, tools);
      return json(await meOf(personId, tools), 201, { 'Set-Cookie': await openSession(personId, tools) });
    },
  }),
  route({
    method: 'get',
    path: '/api/me',
    name: 'whoAmI',
    says: 'Who is signed in, and what they may do.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'this person', json: me } },
    answer: async ({ actor, tools }) => json(await meOf(actor.personId, tools)),
  }),
  route({
    method: 'delete',
    path: '/api/sessions/mine',
    name: 'signOut',
    says: 'Ends the session, or the token, with which this is asked.',
    who: { may: 'signed-in' },
    answers: { 204: { says: 'ended', headers: COOKIE } },
    answer: async ({ visitor, at, tools }) => {
      await tools.archive.catalogue.entrances.end(visitor.entrance.tokenHash, at);
      return nothing(204, { 'Set-Cookie': sessionCookie('', 0, tools.configuration) });
    },
  }),
  route({
    method: 'put',
    path: '/api/account/password',
    name: 'changePassword',
    says: 'Another password; every session of this person ends, and a new one begins.',
    who: { may: 'signed-in' },
    body: { json: z.strictObject({ present: password, next: password }) },
    answers: { 204: { says: 'changed', headers: COOKIE } },
    answer: async ({ body, visitor, actor, at, tools }) => {
      requireSession(visitor);
      const { accounts, entrances } = tools.archive.catalogue;
      const account = await accounts.ofPerson(actor.personId);
      await personOfPassword(account?.signInName ?? '', body.present, tools);
      await accounts.setPassword(actor.personId, await tools.passwords.hash(body.next));
      await entrances.endSessions(actor.personId, at);
      return nothing(204, { 'Set-Cookie': await openSession(actor.personId, tools) });
    },
  }),
  route({
    method: 'get',
    path: '/api/tokens',
    name: 'listTokens',
    says: 'The tokens for machines that this person has made and that are good.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'them, without their secrets', json: form.listOf(token) } },
    answer: async ({ actor, at, tools }) => {
      const all = await tools.archive.catalogue.entrances.ofPerson(actor.personId, at);
      return json({ items: all.filter(({ kind }) => kind === 'token').map(shownToken), next: null });
    },
  }),
  route({
    method: 'post',
    path: '/api/tokens',
    name: 'makeToken',
    says: 'A token for a machine, which may do what this person may. Its secret is told once.',
    who: { may: 'signed-in' },
    body: { json: z.strictObject({ label: form.name, days: z.int().min(1).max(3660).nullable().default(null) }) },
    answers: { 201: { says: 'made', json: token.extend({ secret: z.string() }) } },
    answer: async ({ body, visitor, actor, at, tools }) => {
      requireSession(visitor);
      const made = newSecret();
      const entrance = {
        tokenHash: hashOfSecret(made),
        kind: 'token' as const,
        personId: actor.personId,
        label: body.label,
        madeMs: at,
        untilMs: body.days === null ? null : at + body.days * DAY_MS,
      };
      await tools.archive.catalogue.entrances.add(entrance);
      return json({ ...shownToken(entrance), secret: made }, 201, { 'Cache-Control': 'no-store' });
    },
  }),
  route({
    method: 'delete',
    path: '/api/tokens/{tokenId}',
    name: 'endToken',
    says: 'Ends a token of this person.',
    who: { may: 'signed-in' },
    params: z.strictObject({ tokenId: form.id }),
    answers: { 204: { says: 'ended' } },
    answer: async ({ params, actor, at, tools }) => {
      const { entrances } = tools.archive.catalogue;
      const mine = await entrances.ofPerson(actor.personId, at);
      const found = mine.find(({ kind, tokenHash }) => kind === 'token' && tokenHash === params.tokenId);
      if (found === undefined) throw new Refusal('not-found', { what: 'token' });
      await entrances.end(found.tokenHash, at);
      return nothing();
    },
  }),
];

/** A stolen token must not be able to outlive itself. */
function requireSession({ entrance }: Visitor): void {
  if (entrance.kind === 'session') return;
  throw new Refusal('not-allowed', { what: 'tokens and passwords', missing: 'a session of the person' });
}

async function meOf(personId: string, { archive }: ServiceTools): Promise<unknown> {
  const person = await archive.catalogue.people.get(personId);
  const party = person && (await archive.catalogue.parties.get(person.partyId));
  if (person === null || party === null) throw new Error('an account without its person');
  return { person: form.shownPerson(person), party: named(party) };
}

function named({ id, name }: { readonly id: string; readonly name: string }): unknown {
  return { id, name };
}

function momentOrNull(ms: number | null): string | null {
  return ms === null ? null : form.formatInstant(ms);
}

function shownToken(one: {
  readonly tokenHash: string;
  readonly label: string;
  readonly madeMs: number;
  readonly untilMs: number | null;
}) {
  const { tokenHash, label, madeMs, untilMs } = one;
  return { id: tokenHash, label, made: form.formatInstant(madeMs), until: momentOrNull(untilMs) };
}
