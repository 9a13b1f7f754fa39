import { joinBytes, Refusal } from '../model/index.ts';
import { derSequence, derUnsigned, TAG } from './der.ts';
import { sameBytes } from './octets.ts';
import { membersOf, readDer, requireTag } from './read-der.ts';

/** From r and s side by side, 32 bytes each, to a sequence of two numbers. @source RFC 3279 2.2.3 */
export function ecdsaToDer(sideBySide: Uint8Array): Uint8Array<ArrayBuffer> {
  return derSequence(derUnsigned(sideBySide.subarray(0, 32)), derUnsigned(sideBySide.subarray(32)));
}

/**
 * And back.
 *
 * @throws {Refusal} unreadable: not two numbers from 0 of at most 256 bits, written as `ecdsaToDer` writes them
 */
export function ecdsaFromDer(signature: Uint8Array): Uint8Array<ArrayBuffer> {
  const numbers = membersOf(readDer(signature, NAME), NAME).map((one) => requireTag(one, TAG.integer, NAME).content);
  const sideBySide = joinBytes(numbers.map(to32Bytes));
  // A number with another first byte would be read as the same one.
  if (sideBySide.length === 64 && sameBytes(ecdsaToDer(sideBySide), signature)) return sideBySide;
  throw new Refusal('unreadable', { file: NAME, reason: 'it is not two numbers of 256 bits in their one form' });
}

const NAME = 'ECDSA signature';

function to32Bytes(number: Uint8Array): Uint8Array {
  const digits = number[0] === 0 ? number.subarray(1) : number;
  return joinBytes([new Uint8Array(Math.max(0, 32 - digits.length)), digits]);
}
