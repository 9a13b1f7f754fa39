import { Refusal } from '../model/index.ts';
import type { Frontier } from './frontier.ts';
import { HASH_BYTES, EMPTY_ROOT, hashNode } from './tree-hash.ts';

/** Where the hashes of whole subtrees are kept: those that `appendLeaf` gave, and no others, are ever asked for. */
export interface KeptHashes {
  /** The hash over 2^level entries from entry index x 2^level on; null or undefined where none is kept. */
  readonly hashOf: (level: number, index: number) => Answer | Promise<Answer>;
}

type Answer = Uint8Array | null | undefined;

/**
 * The root of a log when it had so many entries.
 *
 * @throws {Refusal} as `hashOfRange`
 * @source RFC 9162 2.1.1
 */
export async function rootAt(kept: KeptHashes, size: number): Promise<Uint8Array> {
  return size === 0 ? EMPTY_ROOT : hashOfRange(kept, 0, size);
}

/**
 * The frontier of a log when it had so many entries: what a service that starts again needs to append.
 *
 * @throws {Refusal} as `hashOfRange`
 */
export async function frontierAt(kept: KeptHashes, size: number): Promise<Frontier> {
  const peaks: Uint8Array[] = [];
  for (let begin = 0; begin < size;) {
    let width = 1;
    while (begin + 2 * width <= size && begin % (2 * width) === 0) width *= 2;
    peaks.push(await hashOfRange(kept, begin, begin + width));
    begin += width;
  }
  return { size, peaks };
}

/**
 * The hash over entries `begin` up to, not including, `end`, as it stands in a tree that splits there.
 *
 * @throws {Refusal} unreadable: a hash that must be kept is missing, or is not 32 bytes
 * @source RFC 9162 2.1.1
 */
export async function hashOfRange(kept: KeptHashes, begin: number, end: number): Promise<Uint8Array> {
  const width = end - begin;
  const level = Math.round(Math.log2(width));
  if (2 ** level === width && begin % width === 0) return keptHash(kept, level, begin / width);
  const middle = begin + splitOf(width);
  return hashNode({
    left: await hashOfRange(kept, begin, middle),
    right: await hashOfRange(kept, middle, end),
  });
}

/**
 * Where a tree of so many entries divides: the largest power of two below its size.
 *
 * @param size  2 or more
 * @source RFC 9162 2.1.1
 */
export function splitOf(size: number): number {
  let split = 1;
  while (2 * split < size) split *= 2;
  return split;
}

async function keptHash(kept: KeptHashes, level: number, index: number): Promise<Uint8Array> {
  const hash = await kept.hashOf(level, index);
  if (hash?.length === HASH_BYTES) return hash;
  throw new Refusal('unreadable', {
    file: 'the log',
    reason: `${hash == null ? 'no hash is' : `${hash.length} bytes instead of 32 are`} kept for level ${level}, subtree ${index}`,
  });
}
