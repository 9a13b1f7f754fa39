import { constants, inflateRawSync, inflateSync } from 'node:zlib';
import { unfoldsTooFar } from './growing-bytes.ts';

/**
 * Undoes FlateDecode. The limit holds while inflating, so a bomb never unfolds. Truncated data, a wrong checksum or a
 * damaged middle give what comes before the damage.
 *
 * @throws {Refusal} too-large: unfolds to more than `limit` bytes
 * @source ISO 32000-2 7.4.4; RFC 1950, RFC 1951
 */
export function inflate(coded: Uint8Array, limit: number): Uint8Array {
  const whole = tryInflate(coded, limit, inflateSync);
  if (whole !== null) return whole;
  const headless = coded.subarray(hasZlibHeader(coded) ? 2 : 0);
  return longestInflated(headless, limit);
}

type Inflater = typeof inflateSync;

function hasZlibHeader(coded: Uint8Array): boolean {
  return coded.length >= 2 && (coded[0]! & 0x0f) === 8 && (coded[0]! * 256 + coded[1]!) % 31 === 0;
}

function tryInflate(coded: Uint8Array, limit: number, inflater: Inflater): Uint8Array | null {
  if (coded.length === 0) return new Uint8Array(0);
  try {
    return inflater(coded, { maxOutputLength: limit, finishFlush: constants.Z_SYNC_FLUSH });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE') throw unfoldsTooFar(limit, limit + 1);
    return null;
  }
}

/** Inflates the longest beginning that holds no damage, found by halving. */
function longestInflated(coded: Uint8Array, limit: number): Uint8Array {
  const whole = tryInflate(coded, limit, inflateRawSync);
  if (whole !== null) return whole;
  let best: Uint8Array = new Uint8Array(0);
  let sound = 0;
  let damaged = coded.length;
  while (damaged - sound > 1) {
    const middle = (sound + damaged) >> 1;
    const part = tryInflate(coded.subarray(0, middle), limit, inflateRawSync);
    if (part === null) {
      damaged = middle;
    } else {
      sound = middle;
      best = part;
    }
  }
  return best;
}
