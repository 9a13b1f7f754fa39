import { GrowingBytes } from './growing-bytes.ts';

const CLEAR = 256;
const END = 257;

/**
 * Undoes LZWDecode; damaged data are unfolded as far as they go.
 *
 * @param earlyChange  whether codes grow one code early, as PDF has it unless told otherwise
 * @throws {Refusal} too-large: unfolds to more than `limit` bytes
 * @source ISO 32000-2 7.4.4.2
 */
export function decodeLzw(coded: Uint8Array, earlyChange: boolean, limit: number): Uint8Array {
  const plain = new GrowingBytes(coded.length * 3, limit);
  // Each entry of the table is a run of the bytes already written: where it starts, and how long it is.
  const starts = new Int32Array(4096);
  const lengths = new Int32Array(4096);
  const early = earlyChange ? 1 : 0;
  let next = 258;
  let width = 9;
  let previousStart = -1;
  let previousLength = 0;
  let buffer = 0;
  let bits = 0;
  for (const byte of coded) {
    buffer = ((buffer << 8) | byte) & 0xffffff;
    bits += 8;
    if (bits < width) continue;
    bits -= width;
    const code = (buffer >>> bits) & ((1 << width) - 1);
    if (code === END) break;
    if (code === CLEAR) {
      next = 258;
      width = 9;
      previousStart = -1;
      continue;
    }
    const start = plain.length;
    if (code < 256) {
      plain.push(code);
    } else if (code < next && previousStart !== -1) {
      plain.repeat(starts[code]!, lengths[code]!);
    } else if (code === next && previousStart !== -1) {
      plain.repeat(previousStart, previousLength);
      plain.push(plain.at(previousStart));
    } else {
      break;
    }
    if (previousStart !== -1 && next < 4096) {
      // The entry is the previous run and the first byte of this one, which stand next to each other in the output.
      starts[next] = previousStart;
      lengths[next] = previousLength + 1;
      next += 1;
    }
    previousStart = start;
    previousLength = plain.length - start;
    if (next + early >= 1 << width && width < 12) width += 1;
  }
  return plain.done();
}
