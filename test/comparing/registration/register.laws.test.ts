import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Carrying } from '../made-up-scenes.ts';
import { carried, photograph } from '../made-up-scenes.ts';
import { measure } from './measure.ts';

const SIZE = { width: 28, height: 22 };
const settings = { seed: 20261125, numRuns: 6 };
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** What slips in a layout: some millimetres, some per cent, a few degrees. */
const slip: fc.Arbitrary<Required<Carrying>> = fc.record({
  centreX: fc.constant(14),
  centreY: fc.constant(11),
  shiftX: within(-4, 4),
  shiftY: within(-3, 3),
  scale: within(0.85, 1.18),
  turnDeg: within(-6, 6),
  mirrored: fc.constant(false),
});
const pictures = fc.integer({ min: 1, max: 500 });

describe('a picture that slipped', () => {
  it('is measured back to two hundredths of a millimetre, a thousandth of its size and five hundredths of a degree', () => {
    fc.assert(
      fc.property(pictures, slip, (seed, carrying) => {
        const scene = photograph(seed, 3);
        const found = measure(scene, carried(scene, carrying), { size: SIZE })!;
        expect(Math.hypot(found.shiftXmm - carrying.shiftX, found.shiftYmm - carrying.shiftY)).toBeLessThan(0.02);
        expect(Math.abs(found.scale - carrying.scale)).toBeLessThan(0.001);
        expect(Math.abs(found.turnDeg - carrying.turnDeg)).toBeLessThan(0.05);
      }),
      settings,
    );
  });

  it('is carried back by the way from the revision to the dummy', () => {
    fc.assert(
      fc.property(pictures, slip, (seed, carrying) => {
        const scene = photograph(seed, 3);
        const other = carried(scene, carrying);
        const [there, back] = [measure(scene, other, { size: SIZE })!, measure(other, scene, { size: SIZE })!];
        expect(there.scale * back.scale).toBeCloseTo(1, 2);
        expect(there.turnDeg + back.turnDeg).toBeCloseTo(0, 1);
        // Back goes the turned and scaled shift the other way round.
        const turn = (back.turnDeg * Math.PI) / 180;
        const [x, y] = [there.shiftXmm * back.scale, there.shiftYmm * back.scale];
        const expected = [-(Math.cos(turn) * x - Math.sin(turn) * y), -(Math.sin(turn) * x + Math.cos(turn) * y)];
        expect(Math.hypot(back.shiftXmm - expected[0]!, back.shiftYmm - expected[1]!)).toBeLessThan(0.03);
      }),
      settings,
    );
  });
});

describe('a picture that stayed', () => {
  it('is measured to have stayed, whatever it shows', () => {
    fc.assert(
      fc.property(pictures, (seed) => {
        const scene = photograph(seed, 3);
        const found = measure(scene, scene, { size: SIZE })!;
        expect(Math.hypot(found.shiftXmm, found.shiftYmm)).toBeLessThan(0.01);
        expect(Math.abs(found.scale - 1)).toBeLessThan(0.0005);
        expect(Math.abs(found.turnDeg)).toBeLessThan(0.02);
      }),
      settings,
    );
  });

  it('is told from its mirrored self, and a picture turned by quarters from one that was not', () => {
    const turned = fc.record({ mirrored: fc.boolean(), quarters: fc.integer({ min: 0, max: 3 }) });
    fc.assert(
      fc.property(pictures, turned, (seed, { mirrored, quarters }) => {
        const scene = photograph(seed, 3);
        const square = { width: 22, height: 22 };
        const other = carried(scene, { centreX: 11, centreY: 11, mirrored, turnDeg: 90 * quarters });
        const found = measure(scene, other, { size: square })!;
        expect([found.mirrored, (Math.round(found.turnDeg / 90) + 4) % 4]).toEqual([mirrored, quarters]);
      }),
      { ...settings, numRuns: 3 },
    );
  });
});
