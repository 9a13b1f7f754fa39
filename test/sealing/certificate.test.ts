import { beforeAll, describe, expect, it } from 'vitest';
import {
  certificateFacts,
  checkCertificate,
  daysAfter,
  formatInstant,
  makeCertificate,
  makeKeyPair,
  requireSoundCertificate,
  type KeyPair,
} from '../../src/sealing/index.ts';
import { ANAIS, FROM, NOON, refusalOfPromise, somebody, TOMAS, UNTIL, withByte } from './people.ts';
import { refusalOf } from '../refusal-of.ts';

describe('a certificate for a person of a party', () => {
  let keys: KeyPair;
  let own: Uint8Array;
  beforeAll(async () => {
    keys = await makeKeyPair('ecdsa-p256');
    own = await makeCertificate({ person: ANAIS, keys, from: FROM, until: UNTIL });
  });

  it('says who it is for, in any script, and for how long', () => {
    const { serial, ...facts } = certificateFacts(own);
    expect(facts).toEqual({
      ...ANAIS,
      issuer: ANAIS,
      from: FROM,
      until: UNTIL,
      key: 'ecdsa-p256',
      strong: true,
      maySign: true,
    });
    expect(serial).toMatch(/^01[0-9a-f]{32}$/);
  });

  it('of its own holds every check, with an RSA key too', async () => {
    const rsa = await somebody('rsa-3072');
    const sound = await Promise.all(
      [own, rsa.certificate].map((one) => requireSoundCertificate(one, { at: NOON, person: ANAIS })),
    );
    expect(sound.map(({ key }) => key)).toEqual(['ecdsa-p256', 'rsa-3072']);
  });

  it('by the party’s own authority holds against that authority and not by itself', async () => {
    const above = await makeKeyPair('rsa-3072');
    const person = { commonName: 'Autorité', organisation: ANAIS.organisation };
    const authority = await makeCertificate({
      person,
      keys: above,
      from: FROM,
      until: '2056-01-01T00:00:00Z',
      authority: true,
    });
    const issued = await makeCertificate({
      person: ANAIS,
      keys: { publicKey: keys.publicKey },
      from: FROM,
      until: UNTIL,
      issuer: { certificate: authority, privateKey: above.privateKey },
    });
    expect(certificateFacts(issued).issuer).toEqual(person);
    expect(certificateFacts(authority).until).toBe('2056-01-01T00:00:00Z');
    const checks = (issuer?: Uint8Array) =>
      checkCertificate(issued, { at: NOON, person: ANAIS, ...(issuer === undefined ? {} : { issuer }) });
    expect((await checks(authority)).map(({ outcome }) => outcome)).toEqual(Array(5).fill('holds'));
    expect((await checks()).filter(({ outcome }) => outcome !== 'holds')).toEqual([
      { name: 'certificate-signature', outcome: 'fails', expected: 'its issuer’s signature', found: 'another' },
    ]);
    expect(await refusalOfPromise(requireSoundCertificate(authority, { at: NOON, person }))).toEqual({
      kind: 'unproven',
      what: 'certificate',
      checks: [{ name: 'certificate-for-signing', expected: 'a certificate for signing', found: 'one for other uses' }],
    });
  });

  it('for somebody else, or before its time, is refused with both reasons', async () => {
    const early = '2025-12-31T23:59:59Z';
    expect(await refusalOfPromise(requireSoundCertificate(own, { at: early, person: TOMAS }))).toEqual({
      kind: 'unproven',
      what: 'certificate',
      checks: [
        { name: 'certificate-in-time', expected: `from ${FROM} to ${UNTIL}`, found: early },
        {
          name: 'certificate-person',
          expected: `${TOMAS.commonName}, ${TOMAS.organisation}`,
          found: `${ANAIS.commonName}, ${ANAIS.organisation}`,
        },
      ],
    });
  });

  it('with a short RSA key is too weak', async () => {
    const algorithm = { name: 'RSASSA-PKCS1-v1_5', hash: 'SHA-256', modulusLength: 2048 };
    const publicExponent = Uint8Array.of(1, 0, 1);
    const short = await crypto.subtle.generateKey({ ...algorithm, publicExponent }, true, ['sign', 'verify']);
    const weak = await makeCertificate({ person: ANAIS, keys: short, from: FROM, until: UNTIL });
    expect(await refusalOfPromise(requireSoundCertificate(weak, { at: NOON, person: ANAIS }))).toEqual({
      kind: 'unproven',
      what: 'certificate',
      checks: [{ name: 'certificate-strong', expected: 'RSA of at least 3072 bits or ECDSA P-256', found: 'rsa-2048' }],
    });
  });

  it('changed in its signature is found', async () => {
    const changed = withByte(own, own.length - 1);
    const checks = await checkCertificate(changed, { at: NOON, person: ANAIS });
    expect(checks.filter(({ outcome }) => outcome !== 'holds').map(({ name }) => name)).toEqual([
      'certificate-signature',
    ]);
  });

  it.each([
    [
      'no name',
      { person: { ...ANAIS, commonName: '' } },
      { pointer: '/commonName', expected: 'text without space at its ends', found: 'nothing' },
    ],
    [
      'a name of 65 characters',
      { person: { ...ANAIS, organisation: 'é'.repeat(65) } },
      { pointer: '/organisation', expected: 'at most 64 characters', found: '65 characters' },
    ],
    [
      'a name that turns the writing round',
      { person: { ...ANAIS, commonName: 'Anna\u202eznarF' } },
      { pointer: '/commonName', expected: 'text that can be seen', found: 'U+202E' },
    ],
    [
      'an end before its beginning',
      { until: FROM },
      { pointer: '/until', expected: `later than ${FROM}`, found: FROM },
    ],
    [
      'a day that no calendar has',
      { until: '2027-02-30T00:00:00Z' },
      { pointer: '/until', expected: 'a moment like 2026-11-25T10:00:00Z', found: '2027-02-30T00:00:00Z' },
    ],
  ])('with %s is not made', async (_, change, details) => {
    const made = makeCertificate({ person: ANAIS, keys, from: FROM, until: UNTIL, ...change });
    expect(await refusalOfPromise(made)).toEqual({ kind: 'malformed', ...details });
  });

  it('without any private key is not made', async () => {
    const made = makeCertificate({ person: ANAIS, keys: { publicKey: keys.publicKey }, from: FROM, until: UNTIL });
    expect(await refusalOfPromise(made)).toEqual({
      kind: 'malformed',
      pointer: '/keys',
      expected: 'a private key or an issuer',
      found: 'neither',
    });
  });

  it('that is none is refused', () => {
    expect(refusalOf(() => certificateFacts(Uint8Array.of(0x30, 0x02, 0x30, 0x00)))).toMatchObject({
      kind: 'unreadable',
      file: 'certificate',
    });
  });

  it('may be made for a number of days', () => {
    const today = formatInstant(new Date('2028-02-28T00:00:00.999Z'));
    expect([today, daysAfter(today, 2)]).toEqual(['2028-02-28T00:00:00Z', '2028-03-01T00:00:00Z']);
  });
});
