import { z } from 'zod';
import type { KeptCertificate, Tables, Title } from '../../archive/index.ts';
import { certificateState, introduceCertificate, requireStanding } from '../../archive/index.ts';
import { formatBase64, parseBase64 } from '../../ledger/index.ts';
import { certificateFacts, fingerprintOf } from '../../sealing/index.ts';
import { json } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';

const DER_CHARACTERS = 40_000;

const certificate = z
  .object({
    id: form.sha256.meta({ description: 'of its bytes' }),
    fingerprint: z.string().meta({ description: 'to be read to each other over the telephone' }),
    party: form.id,
    person: form.id,
    name: z.string(),
    organisation: z.string(),
    introduced: form.instant,
    revokedFrom: form.instant.nullable(),
    der: z.string().meta({ description: 'base64' }),
  })
  .meta({ id: 'Certificate' });

const certificateOfSide = certificate
  .extend({
    state: z.enum(['introduced', 'awaiting', 'confirmed', 'revoked']).meta({ description: 'with the other side' }),
  })
  .meta({ id: 'CertificateOfSide' });

/** Certificates: introduced by their owners, looked at by the other side. */
export const certificateRoutes = [
  route({
    method: 'get',
    path: '/api/certificates',
    name: 'listCertificates',
    says: 'The certificates of one’s own party.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'them', json: form.listOf(certificate) } },
    answer: async ({ actor, tools }) => {
      const own = await tools.archive.catalogue.certificates.ofParty(actor.partyId);
      return json({ items: await Promise.all(own.map(shownCertificate)), next: null });
    },
  }),
  route({
    method: 'post',
    path: '/api/certificates',
    name: 'introduceCertificate',
    says: 'Introduces a certificate of one’s own; its private key stays with its owner. Needs the right to sign.',
    who: { may: 'signed-in' },
    body: { json: z.strictObject({ der: z.string().max(DER_CHARACTERS).meta({ description: 'base64' }) }) },
    answers: { 201: { says: 'introduced', json: certificate } },
    answer: async ({ body, actor, at, tools }) => {
      const der = parseBase64(body.der, '/body/der');
      return json(await shownCertificate(await introduceCertificate(tools.archive, actor, der, at)), 201);
    },
  }),
  route({
    method: 'get',
    path: '/api/titles/{titleId}/certificates',
    name: 'listCertificatesOfTitle',
    says: 'The certificates of both sides of a title, and how each stands with the other side.',
    who: { may: 'standing', on: 'title', right: 'look' },
    params: z.strictObject({ titleId: form.id }),
    answers: { 200: { says: 'them', json: form.listOf(certificateOfSide) } },
    answer: async ({ titleId, actor, at, tools }) => {
      const tables = tools.archive.catalogue;
      const { title } = await requireStanding(tables, actor, titleId);
      const sides = [title.publisherId, title.printerId];
      const all = (await Promise.all(sides.map((id) => tables.certificates.ofParty(id)))).flat();
      return json({ items: await Promise.all(all.map((one) => shownOfSide(tables, title, one, at))), next: null });
    },
  }),
];

async function shownOfSide(tables: Tables, title: Title, one: KeptCertificate, at: number): Promise<unknown> {
  const other = one.partyId === title.publisherId ? title.printerId : title.publisherId;
  return { ...(await shownCertificate(one)), state: await certificateState(tables, one, other, at) };
}

async function shownCertificate({ fingerprint, partyId, personId, der, introducedMs, revocation }: KeptCertificate) {
  const { commonName, organisation } = certificateFacts(der);
  return {
    id: fingerprint,
    fingerprint: await fingerprintOf(der),
    party: partyId,
    person: personId,
    name: commonName,
    organisation,
    introduced: form.formatInstant(introducedMs),
    revokedFrom: revocation && form.formatInstant(revocation.fromMs),
    der: formatBase64(der),
  };
}
