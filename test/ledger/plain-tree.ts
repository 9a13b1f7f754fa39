import { createHash } from 'node:crypto';

/**
 * RFC 9162 2.1 as it is written there, over all entries every time: the plain twin that the log is held against. It has
 * nothing of src/ in it.
 */
const sha256 = (...pieces: Uint8Array[]) => {
  const hash = createHash('sha256');
  pieces.forEach((piece) => hash.update(piece));
  return Uint8Array.from(hash.digest());
};

type Entries = readonly Uint8Array[];

/** 2.1.1: MTH(D[n]). */
export function plainRoot(entries: Entries): Uint8Array {
  if (entries.length === 0) return sha256();
  if (entries.length === 1) return sha256(Uint8Array.of(0), entries[0]!);
  const k = divide(entries.length);
  return sha256(Uint8Array.of(1), plainRoot(entries.slice(0, k)), plainRoot(entries.slice(k)));
}

/** 2.1.3.1: PATH(m, D[n]). */
export function plainInclusion(m: number, entries: Entries): Uint8Array[] {
  if (entries.length === 1) return [];
  const k = divide(entries.length);
  const [left, right] = [entries.slice(0, k), entries.slice(k)];
  return m < k ? [...plainInclusion(m, left), plainRoot(right)] : [...plainInclusion(m - k, right), plainRoot(left)];
}

/** 2.1.4.1: PROOF(m, D[n]). */
export function plainConsistency(m: number, entries: Entries): Uint8Array[] {
  return subproof(m, entries, true);
}

function subproof(m: number, entries: Entries, isComplete: boolean): Uint8Array[] {
  if (m === entries.length) return isComplete ? [] : [plainRoot(entries)];
  const k = divide(entries.length);
  const [left, right] = [entries.slice(0, k), entries.slice(k)];
  return m <= k
    ? [...subproof(m, left, isComplete), plainRoot(right)]
    : [...subproof(m - k, right, false), plainRoot(left)];
}

/** The largest power of two smaller than n. */
function divide(n: number): number {
  return 2 ** (Math.ceil(Math.log2(n)) - 1);
}
