import { describe, expect, it } from 'vitest';
import { longestIncreasingRun } from '../../../src/comparing/sequence/longest-increasing-run.ts';
import { nameOf, readProbes } from '../probe.ts';

const orders = readProbes<{ order: number[] }, { longest: number; moves: number }>(
  new URL('moves.json', import.meta.url),
);
const counts = readProbes<{ pages: number }, number[]>(new URL('permutations-by-moves.json', import.meta.url));

describe('pages that stayed are a longest increasing run', () => {
  it('13 probes are there', () => expect(orders.length + counts.length).toBe(13));

  it.each(orders.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const stayed = longestIncreasingRun(given.order);
    expect({ longest: stayed.length, moves: given.order.length - stayed.length }).toEqual(expected);
  });

  it.each(counts.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const found = expected.map(() => 0);
    for (const order of ordersOf(given.pages)) found[given.pages - longestIncreasingRun(order).length]!++;
    expect(found).toEqual(expected);
    const all = expected.reduce((sum, count) => sum + count, 0);
    expect(all, 'every order is counted once').toBe(factorial(given.pages));
  });
});

function ordersOf(pages: number): number[][] {
  if (pages === 0) return [[]];
  return ordersOf(pages - 1).flatMap((order) =>
    Array.from({ length: pages }, (_, at) => [...order.slice(0, at), pages, ...order.slice(at)]),
  );
}

function factorial(number: number): number {
  return number <= 1 ? 1 : number * factorial(number - 1);
}
