import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alongCurve, curveBetween, toneOf } from './tones.ts';

const LEVELS = Float32Array.from({ length: 2560 }, (_, at) => at / 10);
const all = (value: number) => new Float32Array(LEVELS.length).fill(value);

/** The largest difference between a fitted curve and what was done to the levels, away from black and white. */
function misfit(change: (level: number) => number): number {
  const curve = curveBetween(LEVELS, LEVELS.map(change), all(1));
  const levels = LEVELS.subarray(320, 2240);
  return Math.max(...alongCurve(curve, levels).map((tone, at) => Math.abs(tone - change(levels[at]!))));
}

describe('the tone curve between two drawings of a picture', () => {
  // Means over 16 levels, smoothed 1 2 1 and joined by straight lines, cut a bend short by at most
  // (1/24 + 1/4 + 1/8) * 16² times its second derivative: 1.3 levels for the first of these curves, 1 for the second.
  it.each([
    ['nothing was done', (level: number) => level, 0.1],
    ['contrast was lowered', (level: number) => 30 + 0.7 * level, 0.1],
    ['mid tones were opened', (level: number) => 255 * (level / 255) ** 0.7, 1.3],
    ['mid tones were closed', (level: number) => 255 * (level / 255) ** 1.6, 1],
    ['the picture was inverted', (level: number) => 255 - level, 0.1],
  ] as const)('is found where %s', (_, change, off) => {
    expect(misfit(change)).toBeLessThan(off);
  });

  it('leaves out places of no weight', () => {
    const weights = LEVELS.map((_, at) => at % 2);
    const targets = LEVELS.map((level, at) => (at % 2 === 1 ? 255 - level : 0));
    const curve = curveBetween(LEVELS, targets, weights);
    expect(toneOf(curve, 64)).toBeCloseTo(191, 0);
    expect(toneOf(curve, 200)).toBeCloseTo(55, 0);
  });

  it('is straight between its knots, and goes on straight beyond the last ones', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 255, noNaN: true }), (level) => {
        // exactly so: levels and tones are numbers of 32 bits
        const curve = Float64Array.from({ length: 17 }, (_, knot) => 3 * 16 * knot - 20);
        expect(toneOf(curve, level)).toBeCloseTo(Math.fround(3 * Math.fround(level) - 20), 9);
        expect(toneOf(curve, 270)).toBeCloseTo(790, 9);
        expect(toneOf(curve, -5)).toBeCloseTo(-35, 9);
      }),
      { seed: 20261125 },
    );
  });
});
