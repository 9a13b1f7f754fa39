import { Refusal } from '../model/index.ts';
import { sha256 } from './digest.ts';

/** Digits and capitals without 0, 1, I and O, which are taken for each other: 32 signs, 5 bits each. */
const SIGNS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';
const GROUPS = 5;
const SIGNS_OF_HASH = 4;

/**
 * The short form of a certificate's SHA-256, to be read aloud: its first 100 bits as five groups of four signs, each
 * group ended by a check sign: `7KQ2M-…`. 100 bits are enough because a forger would have to find another certificate
 * for this very form, about 2^100 tries (2^60 a second would take 35,000 years); two certificates of one person with
 * the same form (2^50 tries) gain nothing, because what is signed names the whole hash.
 *
 * @param certificate  in DER
 * @source check sign: a weighted sum over GF(32), common practice, no source; laws in test/sealing/fingerprint.laws.test.ts
 */
export async function fingerprintOf(certificate: Uint8Array): Promise<string> {
  return fingerprintOfHash(await sha256(certificate));
}

/** The same for a hash that is already there: 32 bytes. */
export function fingerprintOfHash(hash: Uint8Array): string {
  let bits = 0n;
  for (const byte of hash.subarray(0, 13)) bits = (bits << 8n) | BigInt(byte);
  bits >>= 4n;
  const values = Array.from({ length: GROUPS * SIGNS_OF_HASH }, (_, at) =>
    Number((bits >> BigInt(5 * (GROUPS * SIGNS_OF_HASH - 1 - at))) & 31n),
  );
  return formatValues(values);
}

/**
 * What somebody typed or wrote down, in the form in which it is shown. Small letters, spaces and missing or other
 * dashes are taken; a sign misheard, two signs or two groups exchanged are found by the check signs.
 *
 * @throws {Refusal} malformed: not 25 signs, a sign that is not used, or a group whose check sign does not fit
 */
export function parseFingerprint(typed: string): string {
  const signs = typed.toUpperCase().replace(/[\s\p{Pd}]/gu, '');
  const expected = 'five groups of five signs';
  if ([...signs].length !== GROUPS * (SIGNS_OF_HASH + 1)) {
    throw new Refusal('malformed', { pointer: '/fingerprint', expected, found: `${[...signs].length} signs` });
  }
  const unused = [...signs].find((sign) => !SIGNS.includes(sign));
  if (unused !== undefined) {
    throw new Refusal('malformed', { pointer: '/fingerprint', expected: `only ${SIGNS}`, found: unused });
  }
  const groups = signs.match(/.{5}/g)!;
  groups.forEach((group, place) => {
    const values = Array.from(group, (sign) => SIGNS.indexOf(sign));
    if (values[SIGNS_OF_HASH] === checkValue(values.slice(0, SIGNS_OF_HASH), place)) return;
    throw new Refusal('malformed', {
      pointer: `/fingerprint/${place}`,
      expected: 'a group whose last sign fits the others',
      found: group,
    });
  });
  return groups.join('-');
}

/**
 * Whether what was read aloud is the fingerprint of this certificate.
 *
 * @throws {Refusal} as `parseFingerprint`
 */
export async function matchesFingerprint(typed: string, certificate: Uint8Array): Promise<boolean> {
  return parseFingerprint(typed) === (await fingerprintOf(certificate));
}

function formatValues(values: readonly number[]): string {
  return Array.from({ length: GROUPS }, (_, place) => {
    const group = values.slice(place * SIGNS_OF_HASH, (place + 1) * SIGNS_OF_HASH);
    return [...group, checkValue(group, place)].map((value) => SIGNS[value]).join('');
  }).join('-');
}

/** The group's place, and each sign times its own power of x: so no two signs and no two groups can change places. */
function checkValue(group: readonly number[], place: number): number {
  return group.reduce((sum, value, at) => sum ^ timesX(value, at + 1), place);
}

/** Multiplication by a power of x in GF(32), modulo x^5 + x^2 + 1. */
function timesX(value: number, power: number): number {
  let product = value;
  for (let step = 0; step < power; step++) product = product & 16 ? ((product << 1) ^ 0b100101) & 31 : product << 1;
  return product;
}
