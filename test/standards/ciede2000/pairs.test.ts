import { describe, expect, it } from 'vitest';
import { deltaE00, deltaE00OfValues } from '../../../src/comparing/colour/ciede2000.ts';
import { nameOf, readProbes } from '../probe.ts';

type Triple = readonly [number, number, number];

const probes = readProbes<{ one: Triple; other: Triple; digits: number }, number>(
  new URL('pairs.json', import.meta.url),
);
const lab = ([l, a, b]: Triple) => ({ l, a, b });

describe('colour differences are CIEDE2000 as published', () => {
  it('37 probes are there: the 34 pairs and three far ones', () => expect(probes).toHaveLength(37));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', (_, { given, expected }) => {
    const { one, other, digits } = given;
    expect(deltaE00(lab(one), lab(other))).toBeCloseTo(expected, digits);
    expect(deltaE00(lab(other), lab(one))).toBeCloseTo(expected, digits);
  });

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('in its quick form too: %s', (_, probe) => {
    const { one, other, digits } = probe.given;
    expect(deltaE00OfValues(...one, ...other)).toBeCloseTo(probe.expected, digits);
    expect(deltaE00OfValues(...other, ...one)).toBeCloseTo(probe.expected, digits);
  });
});
