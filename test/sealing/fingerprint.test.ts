import { beforeAll, describe, expect, it } from 'vitest';
import { fingerprintOf, fingerprintOfHash, matchesFingerprint, parseFingerprint } from '../../src/sealing/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { somebody } from './people.ts';

describe('a fingerprint', () => {
  let certificate: Uint8Array;
  beforeAll(async () => {
    ({ certificate } = await somebody('ecdsa-p256'));
  });

  it('of zeros shows how each group is told from the others', () => {
    expect(fingerprintOfHash(new Uint8Array(32))).toBe('22222-22223-22224-22225-22226');
  });

  it('takes the first 100 bits of the hash and no more', () => {
    const hash = new Uint8Array(32).fill(0xff);
    const changedAfter = hash.map((byte, at) => (at > 12 || at === 12 ? (at === 12 ? 0xf0 : 0) : byte));
    expect(fingerprintOfHash(changedAfter)).toBe(fingerprintOfHash(hash));
    expect(fingerprintOfHash(hash.map((byte, at) => (at === 12 ? 0xef : byte)))).not.toBe(fingerprintOfHash(hash));
  });

  it('may be typed in small letters, with spaces and long dashes or none', async () => {
    const shown = await fingerprintOf(certificate);
    const typed = [
      shown.toLowerCase(),
      shown.replaceAll('-', ' '),
      shown.replaceAll('-', ''),
      shown.replaceAll('-', '–'),
    ];
    expect(typed.map(parseFingerprint)).toEqual([shown, shown, shown, shown]);
    expect(await matchesFingerprint(typed[0]!, certificate)).toBe(true);
  });

  it('of another certificate does not match', async () => {
    const other = await somebody('ecdsa-p256');
    expect(await matchesFingerprint(await fingerprintOf(other.certificate), certificate)).toBe(false);
  });

  it.each([
    [
      'a group short',
      '22222-22223-22224-22225',
      { pointer: '/fingerprint', expected: 'five groups of five signs', found: '20 signs' },
    ],
    [
      'with a sign that is taken for another',
      'O2222-22223-22224-22225-22226',
      { pointer: '/fingerprint', expected: 'only 23456789ABCDEFGHJKLMNPQRSTUVWXYZ', found: 'O' },
    ],
    [
      'misheard in the third group',
      '22222-22223-22S24-22225-22226',
      { pointer: '/fingerprint/2', expected: 'a group whose last sign fits the others', found: '22S24' },
    ],
  ])('%s is refused, and the refusal says where', (_, typed, details) => {
    expect(refusalOf(() => parseFingerprint(typed))).toEqual({ kind: 'malformed', ...details });
  });
});
