import { beforeAll, describe, expect, it } from 'vitest';
import { makeKeyFile, openKeyFile, requireSeal, sealContent, type SigningKey } from '../../src/sealing/index.ts';
import { KEY_FILE_OID } from '../../src/sealing/key-file-oid.ts';
import { derNumber, derOid, derSequence, TAG } from '../../src/sealing/der.ts';
import { formatHex } from '../../src/sealing/octets.ts';
import { memberAt, membersOf, numberOf, readDer } from '../../src/sealing/read-der.ts';
import { NOON, refusalOfPromise, somebody, TOMAS, withByte } from './people.ts';

const PASSPHRASE = 'Schlüssel 鍵 🗝 für den Bogen';
const WRONG = {
  kind: 'unreadable',
  file: 'key file',
  reason: 'the passphrase does not open it, or the file is damaged',
};

/** Few rounds, where the number of them is not what is tested. */
const FAST = 1000;

describe('a key file', () => {
  let key: SigningKey;
  let file: Uint8Array;
  beforeAll(async () => {
    key = await somebody('ecdsa-p256');
    file = await makeKeyFile(key, PASSPHRASE, FAST);
  });

  it.each(['ecdsa-p256', 'rsa-3072'] as const)('gives back a key of %s that signs as before', async (kind) => {
    const own = await somebody(kind, TOMAS);
    const opened = await openKeyFile(await makeKeyFile(own, PASSPHRASE, FAST), PASSPHRASE);
    expect(opened.certificate).toEqual(own.certificate);
    expect(opened.issuers).toEqual([]);
    const content = new TextEncoder().encode('Page 1');
    const claim = { content, pinned: [own], at: NOON, receivedAt: NOON };
    const signer = await requireSeal({ ...claim, seal: await sealContent(content, opened, NOON) });
    expect(signer.commonName).toBe(TOMAS.commonName);
  });

  it('gives back a private key that cannot be taken out any more', async () => {
    const { privateKey } = await openKeyFile(file, PASSPHRASE);
    expect([privateKey.extractable, privateKey.usages]).toEqual([false, ['sign']]);
  });

  it('opens whichever way a keyboard writes the accents', async () => {
    const typed = PASSPHRASE.normalize('NFD');
    expect(typed).not.toBe(PASSPHRASE);
    expect((await openKeyFile(file, typed)).certificate).toEqual(key.certificate);
  });

  it('holds the certificates of those who issued it beside its own', async () => {
    const authority = await somebody('ecdsa-p256', TOMAS);
    const opened = await openKeyFile(
      await makeKeyFile({ ...key, issuers: [authority.certificate] }, PASSPHRASE, FAST),
      PASSPHRASE,
    );
    expect([opened.certificate, opened.issuers]).toEqual([key.certificate, [authority.certificate]]);
  });

  it('is hashed 600,000 times unless a test says otherwise, for the cipher and for the check', async () => {
    const usual = await makeKeyFile(key, PASSPHRASE);
    expect(numberOf(memberAt(readDer(usual, 'x'), [2, 2], TAG.integer, 'x'), 'x')).toBe(600_000);
    // Once in the cipher's parameters, once in the check.
    expect(formatHex(usual).split(formatHex(derNumber(600_000)))).toHaveLength(3);
    expect((await openKeyFile(usual, PASSPHRASE)).certificate).toEqual(key.certificate);
  });

  it('holds no private key in the open', async () => {
    const secret = formatHex(new Uint8Array(await crypto.subtle.exportKey('pkcs8', key.privateKey)));
    // The last 64 bytes of the key are its public point, which the certificate holds as well.
    const scalar = secret.slice(72, 136);
    expect(secret).toContain(scalar);
    expect(scalar).toHaveLength(64);
    expect(formatHex(file)).not.toContain(scalar);
    expect(formatHex(file)).toContain(formatHex(derOid(KEY_FILE_OID.shroudedKey)));
  });

  it.each(['', 'Schlüssel', PASSPHRASE.toLowerCase(), `${PASSPHRASE} `])(
    'stays shut to the passphrase “%s”',
    async (other) => {
      expect(await refusalOfPromise(openKeyFile(file, other))).toEqual(WRONG);
    },
  );

  it('changed in any one byte is refused, or was changed in a wrapping that holds nothing', async () => {
    const content = memberAt(readDer(file, 'x'), [1, 1, 0], TAG.octetString, 'x').content;
    const begin = content.byteOffset - file.byteOffset;
    const opened: number[] = [];
    for (let at = 0; at < file.length; at++) {
      const changed = openKeyFile(withByte(file, at, 1 << (at % 8)), PASSPHRASE);
      if ((await refusalOfPromise(changed)) !== 'nothing was refused') continue;
      opened.push(at);
      expect((await changed).certificate).toEqual(key.certificate);
    }
    expect(opened.filter((at) => at >= begin && at < begin + content.length)).toEqual([]);
    expect(opened.length).toBeLessThan(10);
  });

  it('is not made under a passphrase of seven characters', async () => {
    expect(await refusalOfPromise(makeKeyFile(key, 'sévènth'))).toEqual({
      kind: 'malformed',
      pointer: '/passphrase',
      expected: 'at least 8 characters',
      found: '7',
    });
  });

  it('that would keep a computer busy for minutes is refused before the work begins', async () => {
    const outer = readDer(file, 'x');
    const mac = memberAt(outer, [2], TAG.sequence, 'x');
    const [digest, salt] = membersOf(mac, 'x').map(({ bytes }) => bytes);
    const greedy = derSequence(digest!, salt!, derNumber(0x7fff_ffff));
    const changed = derSequence(outer.content.subarray(0, -mac.bytes.length), greedy);
    expect(await refusalOfPromise(openKeyFile(changed, PASSPHRASE))).toEqual({
      kind: 'too-large',
      what: 'key file',
      limit: 10_000_000,
      found: 0x7fff_ffff,
      unit: 'rounds',
    });
  });

  it('that is none is refused', async () => {
    expect(await refusalOfPromise(openKeyFile(key.certificate, PASSPHRASE))).toMatchObject({
      kind: 'unreadable',
      file: 'key file',
    });
  });
});
