import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longestIncreasingRun } from '../../../src/comparing/sequence/longest-increasing-run.ts';

/** Every strictly rising choice of indices, by brute force. */
function risingRuns(order: readonly number[]): number[][] {
  const runs: number[][] = [];
  for (let choice = 0; choice < 2 ** order.length; choice++) {
    const run = order.map((_, index) => index).filter((index) => (choice >> index) & 1);
    if (run.every((index, at) => at === 0 || order[run[at - 1]!]! < order[index]!)) runs.push(run);
  }
  return runs;
}

/** The rule for ties: smaller numbers seen from the end first; of equal numbers the one further back. */
function preferred(order: readonly number[], one: number[], other: number[]): number {
  for (let at = one.length - 1; at >= 0; at--) {
    const byNumber = order[one[at]!]! - order[other[at]!]!;
    if (byNumber !== 0) return byNumber;
    if (one[at] !== other[at]) return other[at]! - one[at]!;
  }
  return 0;
}

describe('the longest increasing run', () => {
  it('is the one that a search over all choices of up to seven numbers finds, ties included', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 7 }), { maxLength: 7 }), (order) => {
        const runs = risingRuns(order);
        const longest = Math.max(...runs.map((run) => run.length));
        const best = runs.filter((run) => run.length === longest).sort((one, other) => preferred(order, one, other))[0];
        expect(longestIncreasingRun(order)).toEqual(best);
      }),
      { numRuns: 500 },
    );
  });

  it('of a book in order is the whole book, of a book back to front one page', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), (pages) => {
        const book = Array.from({ length: pages }, (_, index) => index + 1);
        expect(longestIncreasingRun(book)).toEqual(book.map((page) => page - 1));
        expect(longestIncreasingRun(book.toReversed())).toEqual([pages - 1]);
      }),
      { numRuns: 20 },
    );
  });

  it('loses one page at most when one page is carried elsewhere', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 300 }), fc.nat(), fc.nat(), (pages, from, to) => {
        const book = Array.from({ length: pages }, (_, index) => index + 1);
        const [carried] = book.splice(from % pages, 1);
        book.splice(to % pages, 0, carried!);
        expect(longestIncreasingRun(book).length).toBe(from % pages === to % pages ? pages : pages - 1);
      }),
    );
  });

  it('keeps the earlier page where either of two could have been moved', () => {
    expect(longestIncreasingRun([2, 1])).toEqual([1]);
    expect(longestIncreasingRun([])).toEqual([]);
  });
});
