import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeSignedCopy } from '../../../src/reporting/index.ts';
import { formatPem } from '../../../src/sealing/index.ts';
import { hasTool, run } from '../../reading/pdf/outside-tool.ts';
import { withByte } from '../../sealing/people.ts';
import { ODD_PAGES, oddBook } from './odd-book.ts';
import { judgedByPoppler, lastSignature } from './pdf-signature.ts';
import { archiveKey, authorityOver, orderFor } from './sample-order.ts';

const key = await archiveKey();
const few = ODD_PAGES.slice(0, 2);
const dummy = await oddBook(few);
const copy = await makeSignedCopy(await orderFor(dummy, key));

describe.skipIf(!hasTool('pdfsig', 'poppler-utils'))('poppler’s pdfsig', () => {
  it('takes the seal of the whole file as valid, made with an ECDSA key', () => {
    const said = judgedByPoppler(copy);
    for (const line of [
      'Signer Certificate Common Name: The archive',
      'Signature Type: ETSI.CAdES.detached',
      'Signing Hash Algorithm: SHA-256',
      'Total document signed',
      'Signature Validation: Signature is Valid.',
    ]) {
      expect(said).toContain(line);
    }
  });

  it('takes one made with an RSA key, in a file whose objects are packed', async () => {
    const rsa = await archiveKey('rsa-3072');
    const said = judgedByPoppler(await makeSignedCopy(await orderFor(await oddBook(few, true), rsa)));
    expect(said).toContain('Total document signed');
    expect(said).toContain('Signature Validation: Signature is Valid.');
  });

  it('notices a changed byte in the dummy’s own part and in what was added', () => {
    const signature = Buffer.from(copy).indexOf('/ByteRange');
    const places = [20, Math.floor(dummy.length / 2), dummy.length + 200, signature - 40, copy.length - 9];
    for (const at of places) {
      const said = judgedByPoppler(withByte(copy, at));
      expect([at, said.includes('Signature is Valid')]).toEqual([at, false]);
    }
  });

  it('notices what somebody appends later', () => {
    const said = judgedByPoppler(Buffer.concat([copy, Buffer.from('\n% more\n')]));
    expect(said).toContain('Not total document signed');
  });

  it('takes both seals of a copy that was made of a copy', async () => {
    const again = judgedByPoppler(await makeSignedCopy(await orderFor(copy, key)));
    expect(again.match(/Signature is Valid/g)).toHaveLength(2);
    expect(again).toContain('Signature Field Name: Witness Leaf seal again');
  });
});

const trusts = hasTool('certutil', 'libnss3-tools') && hasTool('pdfsig', 'poppler-utils');

describe.skipIf(!trusts)('poppler’s pdfsig with an authority in its store', () => {
  it('trusts the archive that this authority vouches for, and no other', async () => {
    const authority = await authorityOver('Offizin Grün & Söhne');
    const vouched = await makeSignedCopy(await orderFor(dummy, await authority.archiveKey()));
    const said = judgedByPoppler(vouched, [authority.certificate]);
    expect(said).toContain('Signature Validation: Signature is Valid.');
    expect(said).toContain('Certificate Validation: Certificate is Trusted.');
    expect(judgedByPoppler(copy, [authority.certificate])).toContain('Certificate issuer is unknown.');
  });
});

describe.skipIf(!hasTool('openssl', 'openssl'))('openssl', () => {
  it('verifies the seal as CAdES: with the signer’s certificate bound in, and without a signing time', () => {
    const folder = mkdtempSync(join(tmpdir(), 'cades-'));
    try {
      const at = (name: string): string => join(folder, name);
      const { content, seal } = lastSignature(copy);
      writeFileSync(at('content'), content);
      writeFileSync(at('seal'), seal);
      writeFileSync(at('archive.pem'), formatPem('CERTIFICATE', key.certificate));
      const args = ['-inform', 'DER', '-in', at('seal'), '-content', at('content'), '-CAfile', at('archive.pem')];
      expect(
        run('openssl', ['cms', '-verify', '-cades', '-binary', '-purpose', 'any', '-out', at('out'), ...args]),
      ).toBe('');
      const printed = run('openssl', ['cms', '-cmsout', '-print', '-inform', 'DER', '-in', at('seal')]);
      expect(printed).toContain('id-smime-aa-signingCertificateV2');
      expect(printed).not.toContain('signingTime');
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
