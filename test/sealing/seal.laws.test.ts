import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { failedChecks } from '../../src/model/index.ts';
import { checkSeal, sealContent, type KeyKind, type SealClaim, type SigningKey } from '../../src/sealing/index.ts';
import { NOON, somebody, withByte } from './people.ts';

const content = new TextEncoder().encode('{"pages":32}');

describe.each<KeyKind>(['ecdsa-p256', 'rsa-3072'])('a signature with %s', (kind) => {
  let key: SigningKey;
  let claim: SealClaim;
  beforeAll(async () => {
    key = await somebody(kind);
    const seal = await sealContent(content, key, NOON);
    claim = { content, seal, pinned: [{ certificate: key.certificate }], at: NOON, receivedAt: NOON };
  });

  const isFound = async (change: Partial<SealClaim>) =>
    failedChecks((await checkSeal({ ...claim, ...change })).checks).length > 0;

  it('holds as it is', async () => expect(await isFound({})).toBe(false));

  it('is refused after a change of any one byte of it, wherever it is', async () => {
    const unnoticed: number[] = [];
    for (let at = 0; at < claim.seal.length; at++) {
      // A different bit at each place, so that all eight have their turn.
      if (!(await isFound({ seal: withByte(claim.seal, at, 1 << (at % 8)) }))) unnoticed.push(at);
    }
    expect(unnoticed).toEqual([]);
    expect(claim.seal.length).toBeGreaterThan(700);
  });

  it('is refused after a change of any one byte of the content', async () => {
    const unnoticed: number[] = [];
    for (let at = 0; at < content.length; at++) {
      if (!(await isFound({ content: withByte(content, at) }))) unnoticed.push(at);
    }
    expect(unnoticed).toEqual([]);
  });

  it('is refused where one byte of the pinned certificate is another', async () => {
    const { certificate } = key;
    await fc.assert(
      fc.asyncProperty(fc.nat(certificate.length - 1), fc.integer({ min: 1, max: 255 }), async (at, change) => {
        expect(await isFound({ pinned: [{ certificate: withByte(certificate, at, change) }] })).toBe(true);
      }),
    );
  });

  it('cut short or made longer is refused', async () => {
    await fc.assert(
      fc.asyncProperty(fc.nat(claim.seal.length - 1), async (length) => {
        expect(await isFound({ seal: claim.seal.slice(0, length) })).toBe(true);
      }),
      { numRuns: 50 },
    );
    expect(await isFound({ seal: Uint8Array.from([...claim.seal, 0]) })).toBe(true);
  });
});
