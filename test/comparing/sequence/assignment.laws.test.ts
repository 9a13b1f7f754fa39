import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assign } from '../../../src/comparing/sequence/assignment.ts';
import { refusalOf } from '../../refusal-of.ts';

const table = fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 6 })).chain(([rows, columns]) =>
  fc.array(fc.array(fc.integer({ min: -20, max: 20 }), { minLength: columns, maxLength: columns }), {
    minLength: rows,
    maxLength: rows,
  }),
);

/** The least cost by trying every way to pair as many as there can be. */
function leastCost(cost: readonly (readonly number[])[]): number {
  const columns = cost[0]!.length;
  const mayRest = Math.max(0, cost.length - columns);
  const search = (row: number, taken: number, resting: number): number => {
    if (row === cost.length) return 0;
    let best = resting < mayRest ? search(row + 1, taken, resting + 1) : Infinity;
    for (let column = 0; column < columns; column++) {
      if ((taken >> column) & 1) continue;
      best = Math.min(best, cost[row]![column]! + search(row + 1, taken | (1 << column), resting));
    }
    return best;
  };
  return search(0, 0, 0);
}

describe('pairing at the least cost', () => {
  it('costs what a search over all pairings finds, and uses no column twice', () => {
    fc.assert(
      fc.property(table, (cost) => {
        const columns = assign(cost);
        const used = columns.filter((column) => column !== null);
        expect(used.length).toBe(Math.min(cost.length, cost[0]!.length));
        expect(new Set(used).size).toBe(used.length);
        expect(columns.reduce<number>((sum, column, row) => sum + (column === null ? 0 : cost[row]![column]!), 0)).toBe(
          leastCost(cost),
        );
      }),
      { numRuns: 300 },
    );
  });

  it('stays the same when every cost of a row grows alike', () => {
    const unlike = [
      [7.5, 2.25, 9],
      [1, 8.5, 3.75],
      [6, 4.5, 0.5],
    ];
    const dearer = unlike.map((row, index) => row.map((value) => value + 100 * (index + 1)));
    expect(assign(dearer)).toEqual(assign(unlike));
  });

  it('pairs 300 with 300', () => {
    const order = (index: number) => (index * 7) % 300;
    const cost = Array.from({ length: 300 }, (_, row) =>
      Array.from({ length: 300 }, (_other, column) =>
        column === order(row) ? 0 : 1 + ((row * 31 + column * 17) % 97),
      ),
    );
    expect(assign(cost)).toEqual(cost.map((_, row) => order(row)));
  });

  it('of nothing is nothing', () => {
    expect(assign([])).toEqual([]);
    expect(assign([[], []])).toEqual([null, null]);
  });

  it('refuses rows of unequal length, and costs that are no numbers', () => {
    expect(refusalOf(() => assign([[1, 2], [3]]))).toEqual({
      kind: 'malformed',
      pointer: 'cost/1',
      expected: '2 numbers',
      found: '1',
    });
    expect(refusalOf(() => assign([[1, Number.NaN]]))).toEqual({
      kind: 'malformed',
      pointer: 'cost/0/1',
      expected: 'a finite number',
      found: 'NaN',
    });
  });
});
