import { createHash } from 'node:crypto';

/** RFC 9162 2.1 over entries `begin` up to, not including, `end`. */
export interface PlainTree {
  /** 2.1.1: MTH(D[begin:end]). */
  readonly root: (begin: number, end: number) => Uint8Array;
  /** 2.1.3.1: PATH(m, D[0:size]). */
  readonly inclusion: (m: number, size: number) => Uint8Array[];
  /** 2.1.4.1: PROOF(m, D[0:size]). */
  readonly consistency: (m: number, size: number) => Uint8Array[];
}

/**
 * The definitions as they are written in the RFC: the plain twin that the log is held against. It has nothing of src/ in
 * it; a root once found is remembered, which is the only thing that the RFC does not say.
 */
export function plainTree(entries: readonly Uint8Array[]): PlainTree {
  const found = new Map<string, Uint8Array>();

  function root(begin: number, end: number): Uint8Array {
    const key = `${begin}:${end}`;
    const known = found.get(key);
    if (known !== undefined) return known;
    const hash = define(begin, end);
    found.set(key, hash);
    return hash;
  }

  function define(begin: number, end: number): Uint8Array {
    const n = end - begin;
    if (n === 0) return sha256();
    if (n === 1) return sha256(Uint8Array.of(0), entries[begin]!);
    const k = divide(n);
    return sha256(Uint8Array.of(1), root(begin, begin + k), root(begin + k, end));
  }

  function path(m: number, begin: number, end: number): Uint8Array[] {
    if (end - begin === 1) return [];
    const k = divide(end - begin);
    return m < k
      ? [...path(m, begin, begin + k), root(begin + k, end)]
      : [...path(m - k, begin + k, end), root(begin, begin + k)];
  }

  function subproof(m: number, begin: number, end: number, isComplete: boolean): Uint8Array[] {
    if (m === end - begin) return isComplete ? [] : [root(begin, end)];
    const k = divide(end - begin);
    return m <= k
      ? [...subproof(m, begin, begin + k, isComplete), root(begin + k, end)]
      : [...subproof(m - k, begin + k, end, false), root(begin, begin + k)];
  }

  return {
    root,
    inclusion: (m, size) => path(m, 0, size),
    consistency: (m, size) => subproof(m, 0, size, true),
  };
}

function sha256(...pieces: Uint8Array[]): Uint8Array {
  const hash = createHash('sha256');
  pieces.forEach((piece) => hash.update(piece));
  return Uint8Array.from(hash.digest());
}

/** The largest power of two smaller than n. */
function divide(n: number): number {
  return 2 ** (Math.ceil(Math.log2(n)) - 1);
}
