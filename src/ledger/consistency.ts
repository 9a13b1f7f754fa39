import { Refusal } from '../model/index.ts';
import { hashOfRange, splitOf, type KeptHashes } from './kept-hashes.ts';
import { HASH_BYTES, hashNode, isSameHash } from './tree-hash.ts';

/** What came of checking that one log is the beginning of another: it is, or the first reason why that is not shown. */
export type ConsistencyAnswer =
  'holds' | 'from-nothing' | 'shrunk' | 'not-a-hash' | 'too-short' | 'too-long' | 'other-old-root' | 'other-new-root';

/** That the log with the old size and root is the beginning of the log with the new ones. */
export interface ConsistencyClaim {
  readonly oldSize: number;
  readonly newSize: number;
  readonly oldRoot: Uint8Array;
  readonly newRoot: Uint8Array;
  readonly proof: readonly Uint8Array[];
}

/**
 * The hashes that show that the log of `oldSize` entries is the beginning of the log of `newSize` entries.
 *
 * @returns nothing where the sizes are equal or the old log was empty: then there is nothing to show
 * @throws {Refusal} malformed: the old log has more entries than the new one
 * @throws {Refusal} as `hashOfRange`
 * @source RFC 9162 2.1.4.1; values in test/standards/ledger
 */
export async function proveConsistency(
  kept: KeptHashes,
  { oldSize, newSize }: { readonly oldSize: number; readonly newSize: number },
): Promise<readonly Uint8Array[]> {
  if (!Number.isSafeInteger(newSize) || !Number.isSafeInteger(oldSize) || oldSize < 0 || oldSize > newSize) {
    throw new Refusal('malformed', { pointer: 'oldSize', expected: `0 to ${newSize}`, found: `${oldSize}` });
  }
  if (oldSize === 0 || oldSize === newSize) return [];
  const proof: Uint8Array[] = [];
  let [begin, end] = [0, newSize];
  while (end !== oldSize) {
    const middle = begin + splitOf(end - begin);
    if (oldSize <= middle) {
      proof.unshift(await hashOfRange(kept, middle, end));
      end = middle;
    } else {
      proof.unshift(await hashOfRange(kept, begin, middle));
      begin = middle;
    }
  }
  // Where the old log is itself a whole subtree from the first entry on, its root is known to whoever asks.
  if (begin !== 0) proof.unshift(await hashOfRange(kept, begin, end));
  return proof;
}

/**
 * Whether the log with the old root is the beginning of the log with the new one. From an empty log nothing can be
 * shown, and the claim is not taken; whoever knows that the old log was empty need not ask.
 *
 * @source RFC 9162 2.1.4.2; values in test/standards/ledger
 */
export function verifyConsistency(claim: ConsistencyClaim): ConsistencyAnswer {
  const { oldSize, newSize, oldRoot, newRoot, proof } = claim;
  if (!Number.isSafeInteger(oldSize) || !Number.isSafeInteger(newSize) || oldSize < 1) return 'from-nothing';
  if (oldSize > newSize) return 'shrunk';
  if ([oldRoot, newRoot, ...proof].some((hash) => hash.length !== HASH_BYTES)) return 'not-a-hash';
  if (oldSize === newSize) {
    if (proof.length > 0) return 'too-long';
    return isSameHash(oldRoot, newRoot) ? 'holds' : 'other-new-root';
  }
  if (proof.length === 0) return 'too-short';
  const isPowerOfTwo = splitOf(oldSize + 1) === oldSize;
  const path = isPowerOfTwo ? [oldRoot, ...proof] : proof;
  let [first, last] = [oldSize - 1, newSize - 1];
  while (first % 2 === 1) [first, last] = [Math.floor(first / 2), Math.floor(last / 2)];
  let [oldHash, newHash] = [path[0]!, path[0]!];
  for (const hash of path.slice(1)) {
    if (last === 0) return 'too-long';
    if (first % 2 === 1 || first === last) {
      oldHash = hashNode({ left: hash, right: oldHash });
      newHash = hashNode({ left: hash, right: newHash });
      while (first % 2 === 0 && first !== 0) [first, last] = [first / 2, Math.floor(last / 2)];
    } else {
      newHash = hashNode({ left: newHash, right: hash });
    }
    [first, last] = [Math.floor(first / 2), Math.floor(last / 2)];
  }
  if (last !== 0) return 'too-short';
  if (!isSameHash(oldHash, oldRoot)) return 'other-old-root';
  return isSameHash(newHash, newRoot) ? 'holds' : 'other-new-root';
}
