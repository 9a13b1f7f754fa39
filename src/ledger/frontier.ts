import { EMPTY_ROOT, hashNode } from './tree-hash.ts';

/** The hash of a whole subtree: 2^level entries, from entry index x 2^level on. Level 0 are the leaves. */
export interface SubtreeHash {
  readonly level: number;
  readonly index: number;
  readonly hash: Uint8Array;
}

/** All that must be known of a log to append to it and to name its root: as many hashes as its size has ones. */
export interface Frontier {
  /** Entries. */
  readonly size: number;
  /** Whole subtrees side by side, the largest and earliest first. */
  readonly peaks: readonly Uint8Array[];
}

/** The frontier of a log without entries. */
export const EMPTY_FRONTIER: Frontier = { size: 0, peaks: [] };

/**
 * Appends one entry, without reading any other.
 *
 * @param leaf  the entry's hash, from `hashLeaf`
 * @returns the log's frontier with it, and every subtree it made whole, to be kept: its own leaf first, then upwards
 * @throws {Refusal} as `hashNode`
 * @source RFC 9162 2.1.2, kept as the stack that the algorithm there ends with
 */
export function appendLeaf(
  { size, peaks }: Frontier,
  leaf: Uint8Array,
): { readonly frontier: Frontier; readonly whole: readonly SubtreeHash[] } {
  const left = [...peaks];
  const whole: SubtreeHash[] = [{ level: 0, index: size, hash: leaf }];
  let last = whole[0]!;
  while (last.index % 2 === 1) {
    const hash = hashNode({ left: left.pop()!, right: last.hash });
    last = { level: last.level + 1, index: (last.index - 1) / 2, hash };
    whole.push(last);
  }
  return { frontier: { size: size + 1, peaks: [...left, last.hash] }, whole };
}

/**
 * The root of the log with this frontier.
 *
 * @throws {Refusal} as `hashNode`
 * @source RFC 9162 2.1.2 step 4
 */
export function rootOfFrontier({ peaks }: Frontier): Uint8Array {
  if (peaks.length === 0) return EMPTY_ROOT;
  return peaks.reduceRight((right, left) => hashNode({ left, right }));
}
