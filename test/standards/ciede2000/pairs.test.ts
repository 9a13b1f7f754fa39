import { describe, expect, it } from 'vitest';
import { deltaE00, deltaE00OfPixels } from '../../../src/comparing/colour/ciede2000.ts';
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

  it('two pictures are told apart pixel by pixel by the same numbers', () => {
    const out = new Float32Array(probes.length);
    deltaE00OfPixels(
      Float32Array.from(probes.flatMap(({ given }) => given.one)),
      Float32Array.from(probes.flatMap(({ given }) => given.other)),
      out,
    );
    // Pairs 9 to 16 stand on the edge where hues are opposite: single precision may fall to either side.
    probes.forEach(({ given, expected }, index) => {
      if (index < 8 || index > 15) expect(out[index], `pair ${index + 1}`).toBeCloseTo(expected, 3);
      else expect(out[index]).toBeCloseTo(deltaE00(lab(single(given.one)), lab(single(given.other))), 3);
    });
  });
});

function single([l, a, b]: Triple): Triple {
  return [Math.fround(l), Math.fround(a), Math.fround(b)];
}
