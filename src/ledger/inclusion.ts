import { Refusal } from '../model/index.ts';
import { hashOfRange, splitOf, type KeptHashes } from './kept-hashes.ts';
import { HASH_BYTES, hashNode, isSameHash } from './tree-hash.ts';

/** What came of checking that an entry is in a log: it is, or the first reason why that is not shown. */
export type InclusionAnswer = 'holds' | 'no-such-entry' | 'not-a-hash' | 'too-short' | 'too-long' | 'other-root';

/** That an entry is in the log with this size and root. */
export interface InclusionClaim {
  /** The entry's hash: made with `hashLeaf` from its bytes, never taken from whoever gave the proof. */
  readonly leaf: Uint8Array;
  /** Of the entry, from 0. */
  readonly index: number;
  readonly size: number;
  readonly root: Uint8Array;
  /** From the bottom up. */
  readonly proof: readonly Uint8Array[];
}

/**
 * The hashes that lead from an entry to the root of the log when it had `size` entries.
 *
 * @param index  of the entry, from 0
 * @returns from the bottom up
 * @throws {Refusal} malformed: the log had no such entry
 * @throws {Refusal} as `hashOfRange`
 * @source RFC 9162 2.1.3.1; values in test/standards/ledger
 */
export async function proveInclusion(
  kept: KeptHashes,
  { index, size }: { readonly index: number; readonly size: number },
): Promise<readonly Uint8Array[]> {
  if (!isPlace(index, size)) {
    throw new Refusal('malformed', { pointer: 'index', expected: `0 to ${size - 1}`, found: `${index}` });
  }
  const proof: Uint8Array[] = [];
  let [begin, end] = [0, size];
  while (end - begin > 1) {
    const middle = begin + splitOf(end - begin);
    if (index < middle) {
      proof.unshift(await hashOfRange(kept, middle, end));
      end = middle;
    } else {
      proof.unshift(await hashOfRange(kept, begin, middle));
      begin = middle;
    }
  }
  return proof;
}

/**
 * Whether an entry is in the log with this root.
 *
 * @source RFC 9162 2.1.3.2; values in test/standards/ledger
 */
export function verifyInclusion({ leaf, index, size, root, proof }: InclusionClaim): InclusionAnswer {
  if (!isPlace(index, size)) return 'no-such-entry';
  if ([leaf, root, ...proof].some((hash) => hash.length !== HASH_BYTES)) return 'not-a-hash';
  let [first, last] = [index, size - 1];
  let hash = leaf;
  for (const sibling of proof) {
    if (last === 0) return 'too-long';
    if (first % 2 === 1 || first === last) {
      hash = hashNode({ left: sibling, right: hash });
      // At the right edge: levels where nothing stands beside it.
      while (first % 2 === 0 && first !== 0) [first, last] = [first / 2, Math.floor(last / 2)];
    } else {
      hash = hashNode({ left: hash, right: sibling });
    }
    [first, last] = [Math.floor(first / 2), Math.floor(last / 2)];
  }
  if (last !== 0) return 'too-short';
  return isSameHash(hash, root) ? 'holds' : 'other-root';
}

/** Sizes are whole numbers that every computer keeps exactly; shifts of 32 bits are therefore not used. */
function isPlace(index: number, size: number): boolean {
  return Number.isSafeInteger(size) && Number.isSafeInteger(index) && index >= 0 && index < size;
}
