import { describe, expect, it } from 'vitest';
import { normalisedCorrelation } from '../../../src/comparing/likeness.ts';
import { greyFixture } from '../grey-fixtures.ts';
import { nameOf, readProbes } from '../probe.ts';

type Given =
  | { readonly one: readonly number[]; readonly other: readonly number[]; readonly digits: number }
  | { readonly fixtures: readonly [string, string]; readonly digits: number };

const probes = readProbes<Given, number>(new URL('pearson.json', import.meta.url));

describe('correlation of values is Pearson’s', () => {
  it('12 probes are there', () => expect(probes).toHaveLength(12));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const [one, other] =
      'fixtures' in given
        ? [greyFixture(given.fixtures[0]), greyFixture(given.fixtures[1])]
        : [Float64Array.from(given.one), Float64Array.from(given.other)];
    expect(normalisedCorrelation(one, other)).toBeCloseTo(expected, given.digits);
    expect(normalisedCorrelation(other, one)).toBeCloseTo(expected, given.digits);
  });
});
