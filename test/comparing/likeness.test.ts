import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalisedCorrelation, structuralSimilarity } from '../../src/comparing/likeness.ts';
import { refusalOf } from '../refusal-of.ts';

const picture = fc.uint8Array({ minLength: 16 * 13, maxLength: 16 * 13 });

describe('likeness', () => {
  it('of a picture with itself is 1', () => {
    fc.assert(
      fc.property(picture, (grey) => {
        expect(structuralSimilarity(grey, grey, 16, 13)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('by structure is what the formula gives when each window is summed in plain loops', () => {
    fc.assert(
      fc.property(picture, picture, (one, other) => {
        expect(structuralSimilarity(one, other, 16, 13)).toBeCloseTo(plainSimilarity(one, other, 16, 13), 9);
      }),
      { numRuns: 20 },
    );
  });

  it('by correlation does not see another contrast or brightness, and sees an inversion', () => {
    fc.assert(
      fc.property(picture, (grey) => {
        fc.pre(grey.some((value) => value !== grey[0]));
        expect(
          normalisedCorrelation(
            grey,
            Float64Array.from(grey, (value) => 0.5 * value + 40),
          ),
        ).toBeCloseTo(1, 9);
        expect(
          normalisedCorrelation(
            grey,
            Float64Array.from(grey, (value) => 255 - value),
          ),
        ).toBeCloseTo(-1, 9);
      }),
    );
  });

  it('by correlation is unknown where a picture is even', () => {
    const even = new Float64Array(100).fill(0.1);
    expect(
      normalisedCorrelation(
        even,
        Float64Array.from(even, (_, at) => at),
      ),
    ).toBeNull();
  });

  it('refuses pictures too small for the window, and pictures of unequal size', () => {
    const small = new Uint8Array(100);
    expect(refusalOf(() => structuralSimilarity(small, small, 10, 10))).toEqual({
      kind: 'malformed',
      pointer: 'width',
      expected: 'at least 11 px',
      found: '10 px',
    });
    const [grey, shorter] = [new Uint8Array(121), new Uint8Array(120)];
    const unequal = { kind: 'malformed', pointer: 'other', expected: '121 values', found: '120' };
    expect(refusalOf(() => structuralSimilarity(grey, shorter, 11, 11))).toEqual(unequal);
    expect(refusalOf(() => normalisedCorrelation(grey, shorter))).toEqual(unequal);
  });
});

/** The plain twin: each window's weights, means and variances on their own. */
function plainSimilarity(one: Uint8Array, other: Uint8Array, width: number, height: number): number {
  const weight = (dx: number, dy: number) => Math.exp(-(dx * dx + dy * dy) / (2 * 1.5 ** 2));
  const scores: number[] = [];
  for (let y = 5; y < height - 5; y++) {
    for (let x = 5; x < width - 5; x++) {
      const taps: { w: number; a: number; b: number }[] = [];
      for (let dy = -5; dy <= 5; dy++) {
        for (let dx = -5; dx <= 5; dx++) {
          const at = (y + dy) * width + x + dx;
          taps.push({ w: weight(dx, dy), a: one[at]!, b: other[at]! });
        }
      }
      const all = taps.reduce((sum, { w }) => sum + w, 0);
      const average = (value: (tap: { a: number; b: number }) => number) =>
        taps.reduce((sum, tap) => sum + tap.w * value(tap), 0) / all;
      const [ma, mb] = [average(({ a }) => a), average(({ b }) => b)];
      const va = average(({ a }) => (a - ma) ** 2);
      const vb = average(({ b }) => (b - mb) ** 2);
      const cov = average(({ a, b }) => (a - ma) * (b - mb));
      scores.push(
        ((2 * ma * mb + 6.5025) * (2 * cov + 58.5225)) / ((ma * ma + mb * mb + 6.5025) * (va + vb + 58.5225)),
      );
    }
  }
  return scores.reduce((sum, score) => sum + score, 0) / scores.length;
}
