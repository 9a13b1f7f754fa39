import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fingerprintOfHash, parseFingerprint } from '../../src/sealing/index.ts';
import { Refusal } from '../../src/model/index.ts';

const fingerprint = fc.uint8Array({ minLength: 32, maxLength: 32 }).map((hash) => fingerprintOfHash(hash));
const SIGNS = [...'23456789ABCDEFGHJKLMNPQRSTUVWXYZ'];

function isFound(typed: string): boolean {
  try {
    parseFingerprint(typed);
    return false;
  } catch (error) {
    return error instanceof Refusal;
  }
}

function exchanged<T>(list: readonly T[], one: number, other: number): T[] {
  return list.map((item, at) => (at === one ? list[other]! : at === other ? list[one]! : item));
}

describe('whatever the certificate, its fingerprint', () => {
  it('is read back as it was written', () => {
    fc.assert(
      fc.property(fingerprint, (shown) => {
        expect(parseFingerprint(shown)).toBe(shown);
      }),
    );
  });

  it('with one sign misheard is refused', () => {
    fc.assert(
      fc.property(fingerprint, fc.nat(28), fc.constantFrom(...SIGNS), (shown, at, sign) => {
        fc.pre(shown[at] !== '-' && shown[at] !== sign);
        expect(isFound(shown.slice(0, at) + sign + shown.slice(at + 1))).toBe(true);
      }),
    );
  });

  it('with two signs of a group exchanged is refused', () => {
    fc.assert(
      fc.property(fingerprint, fc.nat(4), fc.nat(4), fc.nat(4), (shown, group, one, other) => {
        const [first, second] = [group * 6 + one, group * 6 + other];
        fc.pre(shown[first] !== shown[second]);
        expect(isFound(exchanged([...shown], first, second).join(''))).toBe(true);
      }),
    );
  });

  it('with two groups exchanged is refused', () => {
    fc.assert(
      fc.property(fingerprint, fc.nat(4), fc.nat(4), (shown, one, other) => {
        fc.pre(one !== other);
        expect(isFound(exchanged(shown.split('-'), one, other).join('-'))).toBe(true);
      }),
    );
  });
});
