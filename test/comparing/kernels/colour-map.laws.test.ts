import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyColourMap } from '../../../src/comparing/conversion/colour-map.ts';
import { mapColours, sumEquations } from '../../../src/comparing/kernels/colour-map.ts';
import { randomFrom } from './random-from.ts';

// Every law states the formula in plain numbers of 64 bits and holds the kernel to the last bit of it.

/** Colours all over the room and beyond its ends. */
const colours = fc
  .record({ count: fc.integer({ min: 0, max: 41 }), seed: fc.integer({ min: 1, max: 2 ** 31 - 2 }) })
  .map(({ count, seed }) => {
    const next = randomFrom(seed);
    const lab = (): Float32Array =>
      Float32Array.from({ length: count * 3 }, (_, at) => (at % 3 === 0 ? next() * 120 - 10 : next() * 200 - 100));
    return {
      lab: lab(),
      became: lab(),
      weights: Float32Array.from({ length: count }, () => (next() < 0.2 ? 0 : next())),
      map: Float64Array.from({ length: 81 }, () => (next() - 0.5) * 60),
    };
  });

/** The products of a colour up to the third degree. */
function termsOf(l: number, a: number, b: number): number[] {
  const [x, y, z] = [(l - 50) / 50, a / 60, b / 60];
  const squares = [x * x, y * y, z * z, x * y, x * z, y * z];
  const cubes = [x * x * x, y * y * y, z * z * z, x * x * y, x * x * z, y * y * x, y * y * z, z * z * x, z * z * y];
  return [1, x, y, z, ...squares, ...cubes, x * y * z];
}

describe('many colours', () => {
  it('are mapped as each by itself', () => {
    fc.assert(
      fc.property(colours, ({ lab, map }) => {
        const expected = new Float32Array(lab.length);
        for (let at = 0; at < lab.length; at += 3) {
          applyColourMap(map, lab[at]!, lab[at + 1]!, lab[at + 2]!, expected, at);
        }
        expect([...mapColours(map, lab)]).toEqual([...expected]);
      }),
    );
  });

  it('add up to the equations of a map, those of no weight left out', () => {
    fc.assert(
      fc.property(colours, ({ lab, became, weights }) => {
        const normal = new Float64Array(400);
        const right = [new Float64Array(20), new Float64Array(20), new Float64Array(20)];
        let mass = 0;
        for (const [i, w] of weights.entries()) {
          if (w === 0) continue;
          mass += w;
          const terms = termsOf(lab[i * 3]!, lab[i * 3 + 1]!, lab[i * 3 + 2]!);
          terms.forEach((term, j) => {
            right.forEach((row, channel) => (row[j]! += w * term * became[i * 3 + channel]!));
            for (let k = 0; k <= j; k++) normal[j * 20 + k]! += w * term * terms[k]!;
          });
        }
        const found = sumEquations(lab, became, weights);
        const lower = (matrix: Float64Array): number[] => [...matrix].filter((_, at) => at % 20 <= Math.floor(at / 20));
        expect(lower(found.normal)).toEqual(lower(normal));
        expect(found.right.map((row) => [...row])).toEqual(right.map((row) => [...row]));
        expect(found.mass).toBe(mass);
      }),
    );
  });
});
