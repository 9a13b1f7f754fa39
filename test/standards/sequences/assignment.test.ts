import { describe, expect, it } from 'vitest';
import { assign } from '../../../src/comparing/sequence/assignment.ts';
import { nameOf, readProbes } from '../probe.ts';

const probes = readProbes<{ cost: number[][] }, { columns: (number | null)[]; cost: number }>(
  new URL('assignment.json', import.meta.url),
);

describe('pairs are assigned at the least cost', () => {
  it('4 probes are there', () => expect(probes).toHaveLength(4));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const columns = assign(given.cost);
    const cost = columns.reduce<number>(
      (sum, column, row) => sum + (column === null ? 0 : given.cost[row]![column]!),
      0,
    );
    expect({ columns, cost }).toEqual(expected);
  });
});
