import { derSequence, derUnsigned, TAG } from './der.ts';
import { joinBytes } from './octets.ts';
import { membersOf, readDer, requireTag } from './read-der.ts';

/** From r and s side by side, 32 bytes each, to a sequence of two numbers. @source RFC 3279 2.2.3 */
export function ecdsaToDer(sideBySide: Uint8Array): Uint8Array<ArrayBuffer> {
  return derSequence(derUnsigned(sideBySide.subarray(0, 32)), derUnsigned(sideBySide.subarray(32)));
}

/**
 * And back.
 *
 * @throws {Refusal} unreadable: not two numbers from 0 of at most 256 bits in DER
 */
export function ecdsaFromDer(signature: Uint8Array): Uint8Array<ArrayBuffer> {
  const [r, s] = membersOf(readDer(signature, 'ECDSA signature'), 'ECDSA signature').map(
    (number) => requireTag(number, TAG.integer, 'ECDSA signature').content,
  );
  const padded = (number: Uint8Array = new Uint8Array()) => {
    const digits = number[0] === 0 ? number.subarray(1) : number;
    return joinBytes(new Uint8Array(Math.max(0, 32 - digits.length)), digits);
  };
  return joinBytes(padded(r), padded(s));
}
