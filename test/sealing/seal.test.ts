import { beforeAll, describe, expect, it } from 'vitest';
import {
  certificateFacts,
  checkSeal,
  makeCertificate,
  makeKeyPair,
  requireSeal,
  sealContent,
  sealPdfHash,
  sha256Hex,
  type SealClaim,
  type SigningKey,
} from '../../src/sealing/index.ts';
import { attributesToSign, formatSeal, sealAttributes } from '../../src/sealing/seal-form.ts';
import { sha256 } from '../../src/sealing/digest.ts';
import { ecdsaToDer } from '../../src/sealing/ecdsa-signature.ts';
import { ANAIS, FROM, NOON, refusalOfPromise, somebody, TOMAS, UNTIL } from './people.ts';

const content = new TextEncoder().encode('The order of pages as on the dummy.\n');
const LATER = '2026-11-25T12:00:05Z';

describe('a detached signature', () => {
  let anais: SigningKey;
  let claim: SealClaim;
  beforeAll(async () => {
    anais = await somebody('ecdsa-p256');
    const seal = await sealContent(content, anais, NOON);
    claim = { content, seal, pinned: [{ certificate: anais.certificate }], at: NOON, receivedAt: LATER };
  });

  /** Names of the checks that do not hold, with what came of them. */
  const faultsOf = async (change: Partial<SealClaim>) =>
    (await checkSeal({ ...claim, ...change })).checks
      .filter(({ outcome }) => outcome !== 'holds')
      .map(({ name, outcome }) => `${name} ${outcome}`);

  it('holds in every check, and says whose it is', async () => {
    const answer = await checkSeal(claim);
    expect(answer.checks.map(({ name, outcome }) => `${name} ${outcome}`)).toEqual([
      'form holds',
      'certificate-pinned holds',
      'certificate-strong holds',
      'certificate-for-signing holds',
      'certificate-in-time holds',
      'certificate-not-revoked holds',
      'content-type holds',
      'message-digest holds',
      'signing-time holds',
      'signing-certificate holds',
      'signature holds',
    ]);
    expect(answer.signer).toEqual(certificateFacts(anais.certificate));
    expect(answer.certificate).toBe(await sha256Hex(anais.certificate));
    expect(await requireSeal(claim)).toEqual(answer.signer);
  });

  it('made for a PDF file names no moment, and so is none for a statement', async () => {
    const seal = await sealPdfHash(await sha256(content), anais);
    expect(await faultsOf({ seal })).toEqual(['signing-time fails']);
  });

  it('holds with an RSA key too', async () => {
    const tomas = await somebody('rsa-3072', TOMAS);
    const seal = await sealContent(content, tomas, NOON);
    const signer = await requireSeal({ ...claim, seal, pinned: [...claim.pinned, { certificate: tomas.certificate }] });
    expect([signer.commonName, signer.key]).toEqual([TOMAS.commonName, 'rsa-3072']);
  });

  it('on other content is refused for its digest and nothing else', async () => {
    expect(await faultsOf({ content: new TextEncoder().encode('Another order.\n') })).toEqual(['message-digest fails']);
  });

  it('at another second than the statement says is refused for its time', async () => {
    expect(await faultsOf({ at: LATER })).toEqual(['signing-time fails']);
  });

  it('by somebody whose certificate nobody pinned is refused, and the refusal names the certificate', async () => {
    const { certificate } = await somebody('ecdsa-p256');
    const found = `SHA-256 ${await sha256Hex(anais.certificate)}`;
    expect(await refusalOfPromise(requireSeal({ ...claim, pinned: [{ certificate }] }))).toEqual({
      kind: 'unproven',
      what: 'signature',
      checks: [
        { name: 'certificate-pinned', expected: 'a pinned certificate', found },
        { name: 'certificate-not-revoked', expected: 'a check', found: 'the certificate is not pinned' },
      ],
    });
  });

  it('received before the key was revoked stays valid, and from that moment on is refused whatever time it names', async () => {
    const revoked = (revokedFrom: string) => [{ certificate: anais.certificate, revokedFrom }];
    expect(await faultsOf({ pinned: revoked('2026-11-25T12:00:06Z') })).toEqual([]);
    expect(await faultsOf({ pinned: revoked(LATER) })).toEqual(['certificate-not-revoked fails']);
  });

  it('made before or after the certificate’s time is refused for that', async () => {
    const late = '2036-01-01T00:00:01Z';
    const seal = await sealContent(content, anais, late);
    expect(await faultsOf({ seal, at: late })).toEqual(['certificate-in-time fails']);
  });

  it('by an authority, which may only issue certificates, is refused', async () => {
    const keys = await makeKeyPair('ecdsa-p256');
    const certificate = await makeCertificate({ person: ANAIS, keys, from: FROM, until: UNTIL, authority: true });
    const seal = await sealContent(content, { certificate, privateKey: keys.privateKey }, NOON);
    expect(await faultsOf({ seal, pinned: [{ certificate }] })).toEqual(['certificate-for-signing fails']);
  });

  it('made with another key than the certificate’s is refused for the signature alone', async () => {
    const thief = await somebody('ecdsa-p256');
    const seal = await sealContent(content, { ...anais, privateKey: thief.privateKey }, NOON);
    expect(await faultsOf({ seal })).toEqual(['signature fails']);
  });

  it('that is no signature at all is refused for its form, and the rest is not checked', async () => {
    const { checks } = await checkSeal({ ...claim, seal: new TextEncoder().encode('signed, Anaïs') });
    expect(checks[0]).toMatchObject({ name: 'form', outcome: 'fails' });
    expect(checks.slice(1).map(({ outcome }) => outcome)).toEqual(Array(10).fill('not-checked'));
  });

  describe('properly signed, but with other attributes,', () => {
    /** A genuine signature over the attributes that are left or changed. */
    const sealed = async (change: (attributes: readonly Uint8Array[]) => readonly Uint8Array[]) => {
      const { certificate, privateKey } = anais;
      const attributes = change(
        sealAttributes({
          certificate,
          certificateHash: await sha256(certificate),
          contentHash: await sha256(content),
          at: new Date(NOON),
        }),
      );
      const algorithm = { name: 'ECDSA', hash: 'SHA-256' };
      const signed = await crypto.subtle.sign(algorithm, privateKey, attributesToSign(attributes));
      return formatSeal({
        certificate,
        attributes,
        algorithm: 'ecdsaWithSha256',
        signature: ecdsaToDer(new Uint8Array(signed)),
      });
    };

    it.each([
      [0, 'content-type'],
      [1, 'message-digest'],
      [2, 'signing-time'],
      [3, 'signing-certificate'],
    ])('one without the attribute %i is refused for %s', async (at, name) => {
      expect(await faultsOf({ seal: await sealed((all) => all.toSpliced(at, 1)) })).toEqual([`${name} fails`]);
    });

    it('one that names the time twice is refused for its form and its time', async () => {
      const seal = await sealed((all) => [...all, all[2]!]);
      expect(await faultsOf({ seal })).toEqual(['form fails', 'signing-time fails']);
    });
  });
});
