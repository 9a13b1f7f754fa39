import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  checkCertificate,
  formatPem,
  makeCertificate,
  makeKeyPair,
  signStatement,
  type SigningKey,
} from '../../../src/sealing/index.ts';
import { ANAIS, FROM, KINDS, NOON, somebody, statementsBy, TOMAS, UNTIL, withByte } from '../../sealing/people.ts';
import { hasOpenssl, openDesk, type Desk } from './openssl.ts';

const AT = String(Date.parse(NOON) / 1000);

describe.skipIf(!hasOpenssl)('OpenSSL judges the signature under a statement', () => {
  let desk: Desk;
  beforeAll(() => {
    desk = openDesk();
  });
  afterAll(() => desk.clear());

  const verify = (trusted: string, ...more: string[]) =>
    ['cms', '-verify', '-binary', '-inform', 'DER', '-in', 'seal.p7s', '-content', 'statement.json']
      .concat(['-CAfile', trusted, '-attime', AT, '-out', 'out'])
      .concat(more);

  describe.each([
    ['ecdsa-p256', ANAIS, 'publisher'],
    ['rsa-3072', TOMAS, 'printer'],
  ] as const)('with %s', (kind, person, party) => {
    let key: SigningKey;
    let statements: Awaited<ReturnType<typeof statementsBy>>;
    beforeAll(async () => {
      key = await somebody(kind, person);
      statements = await statementsBy(key, person, party);
      desk.put('signer.pem', formatPem('CERTIFICATE', key.certificate));
    });

    it.each(KINDS)('and takes every one: %s', async (statement) => {
      const { content, seal } = await signStatement(statements[statement], key);
      desk.put('statement.json', content);
      desk.put('seal.p7s', seal);
      expect(desk.status(...verify('signer.pem', '-purpose', 'any', '-cades'))).toBe(0);
      // Without being told a purpose it asks for one that fits signed mail, and takes it too.
      expect(desk.status(...verify('signer.pem'))).toBe(0);
      // Trusting exactly the pinned certificate, whatever lies in the signature.
      expect(desk.status(...verify('signer.pem', '-nointern', '-certfile', 'signer.pem', '-partial_chain'))).toBe(0);
    });

    it('and refuses a changed byte in the content and in the signature', async () => {
      const { content, seal } = await signStatement(statements['sign-off'], key);
      desk.put('statement.json', withByte(content, 20));
      desk.put('seal.p7s', seal);
      expect(desk.status(...verify('signer.pem', '-purpose', 'any'))).toBe(4);
      desk.put('statement.json', content);
      desk.put('seal.p7s', withByte(seal, seal.length - 5));
      expect(desk.status(...verify('signer.pem', '-purpose', 'any'))).toBe(4);
    });

    it('and finds the four attributes in it', async () => {
      const { seal } = await signStatement(statements['sign-off'], key);
      desk.put('seal.p7s', seal);
      const printed = desk.run('cms', '-cmsout', '-print', '-noout', '-inform', 'DER', '-in', 'seal.p7s');
      const attributes = [...printed.matchAll(/^ +object: (\S+) \((1\.2\.840\.113549\.1\.9\.\S+)\)$/gm)].map(
        ([, name]) => name,
      );
      expect(attributes.toSorted()).toEqual([
        'contentType',
        'id-smime-aa-signingCertificateV2',
        'messageDigest',
        'signingTime',
      ]);
      expect(printed).toContain('UTCTIME:Nov 25 12:00:00 2026 GMT');
    });
  });

  it('by somebody whom the party’s own authority named, whose name is beyond ASCII, and takes it', async () => {
    const above = await makeKeyPair('rsa-3072');
    const person = { commonName: 'Zertifizierung Größe 北京', organisation: ANAIS.organisation };
    const authority = await makeCertificate({ person, keys: above, from: FROM, until: UNTIL, authority: true });
    const keys = await makeKeyPair('ecdsa-p256');
    const issuer = { certificate: authority, privateKey: above.privateKey };
    const certificate = await makeCertificate({ person: ANAIS, keys, from: FROM, until: UNTIL, issuer });
    const key = { certificate, privateKey: keys.privateKey };
    const { content, seal } = await signStatement((await statementsBy(key))['sign-off'], key);
    desk.put('statement.json', content);
    desk.put('seal.p7s', seal);
    desk.put('authority.pem', formatPem('CERTIFICATE', authority));
    desk.put('issued.pem', formatPem('CERTIFICATE', certificate));
    expect(desk.status(...verify('authority.pem', '-purpose', 'any', '-cades'))).toBe(0);
    expect(desk.status(...verify('signer.pem', '-purpose', 'any'))).toBe(4);
    expect(desk.status('verify', '-x509_strict', '-CAfile', 'authority.pem', '-attime', AT, 'issued.pem')).toBe(0);
    const subject = desk.run('x509', '-in', 'issued.pem', '-noout', '-subject', '-nameopt', 'utf8,sep_multiline,lname');
    expect(subject.trim().split(/\n\s*/).slice(1)).toEqual([
      `organizationName=${ANAIS.organisation}`,
      `commonName=${ANAIS.commonName}`,
    ]);
  });

  it.each([
    ['ed25519', ['ed25519'], 'ed25519'],
    ['ECDSA P-384', ['ec', '-pkeyopt', 'ec_paramgen_curve:P-384'], 'ecdsa on curve 1.3.132.0.34'],
    ['RSA of 2048 bits', ['rsa:2048'], 'rsa-2048'],
  ])('made with a key of %s, which is not taken here', async (_, newKey, found) => {
    desk.run(
      'req',
      '-x509',
      '-newkey',
      ...newKey,
      '-nodes',
      '-keyout',
      'k',
      '-subj',
      '/O=P/CN=T',
      '-outform',
      'DER',
      '-out',
      'c',
    );
    const person = { commonName: 'T', organisation: 'P' };
    const checks = await checkCertificate(readFileSync(desk.path('c')), { at: NOON, person });
    expect(checks[0]).toEqual({
      name: 'certificate-strong',
      outcome: 'fails',
      expected: 'RSA of at least 3072 bits or ECDSA P-256',
      found,
    });
  });
});
