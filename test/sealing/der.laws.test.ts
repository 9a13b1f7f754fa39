import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { der, derNumber, derOid, derSequence, derSet, derTime, TAG } from '../../src/sealing/der.ts';
import { ecdsaFromDer, ecdsaToDer } from '../../src/sealing/ecdsa-signature.ts';
import { membersOf, numberOf, oidOf, readDer } from '../../src/sealing/read-der.ts';
import { refusalOf } from '../refusal-of.ts';
import { formatHex } from '../../src/sealing/octets.ts';

const arc = fc.nat(2 ** 31 - 1);
const oid = fc
  .tuple(fc.nat(1), fc.nat(39), fc.array(arc, { maxLength: 8 }))
  .map(([first, second, rest]) => [first, second, ...rest].join('.'));

describe('values in DER', () => {
  it('are read back as they were written', () => {
    fc.assert(
      fc.property(fc.nat(2 ** 47 - 1), oid, fc.uint8Array({ minLength: 64, maxLength: 64 }), (value, dotted, bytes) => {
        expect(numberOf(readDer(derNumber(value), 'x'), 'x')).toBe(value);
        expect(oidOf(readDer(derOid(dotted), 'x'), 'x')).toBe(dotted);
        expect(ecdsaFromDer(ecdsaToDer(bytes))).toEqual(bytes);
      }),
    );
  });

  it('have their length in the shortest form at every size', () => {
    const heads = [0, 127, 128, 255, 256, 65_535, 65_536].map((size) =>
      formatHex(der(TAG.octetString, new Uint8Array(size)).subarray(0, 5)),
    );
    expect(heads).toEqual(['0400', '047f000000', '0481800000', '0481ff0000', '0482010000', '0482ffff00', '0483010000']);
  });

  it('lie in a set by their bytes, whatever order they came in', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(1000), { maxLength: 6 }), (numbers) => {
        const members = numbers.map(derNumber);
        expect(derSet(...members)).toEqual(derSet(...members.toReversed()));
      }),
    );
  });

  it('name a moment in two digits of the year up to 2049 and in four from 2050 on', () => {
    const texts = ['2049-12-31T23:59:59Z', '2050-01-01T00:00:00Z'].map((at) =>
      new TextDecoder().decode(derTime(new Date(at)).subarray(2)),
    );
    expect(texts).toEqual(['491231235959Z', '20500101000000Z']);
  });

  it.each([
    ['something after the end', [0x05, 0x00, 0x00], 'something stands after its end'],
    ['a value cut short', [0x30, 0x03, 0x05, 0x00], 'it is cut short'],
    ['nothing at all', [], 'it is cut short'],
    ['a length without end', [0x30, 0x80, 0x00, 0x00], 'a length without end or of more than 4 bytes'],
    ['a length in a longer form', [0x04, 0x81, 0x01, 0x00], 'a length that is not in its shortest form'],
    ['a tag of two bytes', [0x1f, 0x81, 0x01, 0x00], 'a tag of more than one byte'],
  ])('with %s are refused', (_, bytes, reason) => {
    expect(refusalOf(() => readDer(Uint8Array.from(bytes), 'signature'))).toEqual({
      kind: 'unreadable',
      file: 'signature',
      reason,
    });
  });

  it('are refused, or read and written back the same: there is no other way to write them', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 12 }), (bytes) => {
        let read;
        try {
          read = readDer(bytes, 'x');
        } catch {
          return;
        }
        expect(der(read.tag, read.content)).toEqual(bytes);
      }),
    );
    const nested = derSequence(derNumber(1), derSequence(derNumber(2)));
    expect(membersOf(readDer(nested, 'x'), 'x').map(({ bytes }) => formatHex(bytes))).toEqual(['020101', '3003020102']);
  });

  it('of an ECDSA signature have one form: another first byte that would be read as the same number is refused', () => {
    const bytes = ecdsaToDer(new Uint8Array(64).fill(0x80));
    expect(formatHex(bytes.subarray(0, 6))).toBe('304602210080');
    expect(refusalOf(() => ecdsaFromDer(bytes.map((byte, at) => (at === 4 ? 0x10 : byte))))).toEqual({
      kind: 'unreadable',
      file: 'ECDSA signature',
      reason: 'it is not two numbers of 256 bits in their one form',
    });
  });
});
