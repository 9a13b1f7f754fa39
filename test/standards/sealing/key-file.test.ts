import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fingerprintOfHash, fingerprintOf, formatPem, makeKeyFile, openKeyFile } from '../../../src/sealing/index.ts';
import { somebody } from '../../sealing/people.ts';
import { hasOpenssl, openDesk, type Desk } from './openssl.ts';

const PASSPHRASE = 'Schlüssel 鍵 🗝 für den Bogen';

describe.skipIf(!hasOpenssl)('OpenSSL', () => {
  let desk: Desk;
  beforeAll(() => {
    desk = openDesk();
  });
  afterAll(() => desk.clear());

  it.each(['ecdsa-p256', 'rsa-3072'] as const)(
    'opens a key file of %s under a passphrase beyond ASCII',
    async (kind) => {
      const key = await somebody(kind);
      desk.put('key.p12', await makeKeyFile(key, PASSPHRASE));
      desk.run('pkcs12', '-in', 'key.p12', '-passin', `pass:${PASSPHRASE}`, '-nodes', '-out', 'opened.pem');
      const pem = readFileSync(desk.path('opened.pem'), 'utf8');
      expect(pem).toContain(formatPem('CERTIFICATE', key.certificate).trim());
      // The key is the very one: the public halves agree.
      const ofKey = desk.run('pkey', '-in', 'opened.pem', '-pubout');
      expect(desk.run('x509', '-in', 'opened.pem', '-noout', '-pubkey')).toBe(ofKey);
      expect(desk.status('pkcs12', '-in', 'key.p12', '-passin', 'pass:another one', '-nodes', '-out', 'none.pem')).toBe(
        1,
      );
    },
  );

  it('finds it guarded by AES-256 and 600,000 rounds of HMAC with SHA-256', async () => {
    desk.put('key.p12', await makeKeyFile(await somebody('ecdsa-p256'), PASSPHRASE));
    const shell = ['pkcs12', '-in', 'key.p12', '-passin', `pass:${PASSPHRASE}`, '-info', '-noout'];
    const told = desk.told(...shell);
    expect(told).toContain('MAC: sha256, Iteration 600000');
    expect(told).toContain('PBES2, PBKDF2, AES-256-CBC, Iteration 600000, PRF hmacWithSHA256');
  });

  it.each(['ecdsa-p256', 'rsa-3072'] as const)('makes a key file of %s that opens here', async (kind) => {
    const key = await somebody(kind);
    desk.put('key.p12', await makeKeyFile(key, PASSPHRASE, 1000));
    desk.run('pkcs12', '-in', 'key.p12', '-passin', `pass:${PASSPHRASE}`, '-nodes', '-out', 'opened.pem');
    desk.run('pkcs12', '-export', '-in', 'opened.pem', '-out', 'other.p12', '-passout', `pass:${PASSPHRASE}`);
    const opened = await openKeyFile(readFileSync(desk.path('other.p12')), PASSPHRASE);
    expect(opened.certificate).toEqual(key.certificate);
  });

  it('gives the hash of a certificate that its short form is the beginning of', async () => {
    const { certificate } = await somebody('ecdsa-p256');
    desk.put('signer.pem', formatPem('CERTIFICATE', certificate));
    const printed = desk.run('x509', '-in', 'signer.pem', '-noout', '-fingerprint', '-sha256');
    const hash = Buffer.from(printed.trim().split('=')[1]!.replaceAll(':', ''), 'hex');
    expect(fingerprintOfHash(hash)).toBe(await fingerprintOf(certificate));
  });
});
