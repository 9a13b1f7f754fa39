import { Refusal, sha256 } from '../model/index.ts';

/** Bytes of a hash of the tree. */
export const HASH_BYTES = 32;

/** The root of a log without entries. @source RFC 9162 2.1.1 */
export const EMPTY_ROOT: Uint8Array = sha256(new Uint8Array(0));

/**
 * The hash with which an entry stands in the log.
 *
 * @param entry  its canonical bytes
 * @source RFC 9162 2.1.1: the 00 in front keeps a pair of hashes from passing as an entry
 */
export function hashLeaf(entry: Uint8Array): Uint8Array {
  const marked = new Uint8Array(1 + entry.length);
  marked.set(entry, 1);
  return sha256(marked);
}

/**
 * The hash over two subtrees: the one with the earlier entries is the left.
 *
 * @throws {Refusal} malformed: one of them is not 32 bytes
 * @source RFC 9162 2.1.1
 */
export function hashNode({ left, right }: { readonly left: Uint8Array; readonly right: Uint8Array }): Uint8Array {
  for (const [side, hash] of Object.entries({ left, right })) {
    if (hash.length !== HASH_BYTES) {
      throw new Refusal('malformed', { pointer: side, expected: '32 bytes of a hash', found: `${hash.length} bytes` });
    }
  }
  const marked = new Uint8Array(1 + 2 * HASH_BYTES);
  marked[0] = 1;
  marked.set(left, 1);
  marked.set(right, 1 + HASH_BYTES);
  return sha256(marked);
}

/** Whether two hashes are the same; both are public, so the time it takes tells nothing. */
export function isSameHash(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, index) => byte === other[index]);
}
