import { GrowingBytes } from './growing-bytes.ts';

/**
 * Undoes RunLengthDecode.
 *
 * @throws {Refusal} too-large: unfolds to more than `limit` bytes
 * @source ISO 32000-2 7.4.5
 */
export function decodeRunLength(coded: Uint8Array, limit: number): Uint8Array {
  const plain = new GrowingBytes(coded.length * 2, limit);
  let at = 0;
  while (at < coded.length) {
    const length = coded[at]!;
    at += 1;
    if (length === 128) break;
    if (length < 128) {
      plain.append(coded.subarray(at, at + length + 1));
      at += length + 1;
    } else if (at < coded.length) {
      plain.fill(coded[at]!, 257 - length);
      at += 1;
    }
  }
  return plain.done();
}
