import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePlacements } from '../../../src/comparing/pictures/placement.ts';
import { affineOf } from '../../../src/comparing/registration/similarity.ts';
import type { Box, Matrix, PlacedPicture } from '../../../src/model/index.ts';
import { similarityFor } from '../made-up-scenes.ts';
import { pictureFacts } from '../sketched-page.ts';

const CENTRE = { x: 60, y: 50 };
const FRAME: Box = { x: 20, y: 20, width: 80, height: 60 };

/** A picture placed in a box; its window clips it where it is given. */
const placed = (box: Box, given: Partial<PlacedPicture> = {}): PlacedPicture => ({
  ...pictureFacts(box),
  pixelWidth: 1600,
  pixelHeight: 1200,
  ...given,
});

describe('what the placements of two files say', () => {
  it('of the same frame in the same place is that it stands still', () => {
    expect(comparePlacements(placed(FRAME), placed(FRAME), CENTRE)).toEqual(
      similarityFor({ centreX: 60, centreY: 50 }),
    );
  });

  it('is how far and how large the picture was placed elsewhere, about the centre that is asked for', () => {
    const larger = placed({ x: 21, y: 18, width: 88, height: 66 });
    const told = comparePlacements(placed(FRAME), larger, CENTRE)!;
    expect(told).toMatchObject({ centreX: 60, centreY: 50, mirrored: false, turnRad: 0 });
    expect(told.scale).toBeCloseTo(1.1, 9);
    // The middle of the frame, 60 | 50, is now at 65 | 51.
    expect([told.shiftX, told.shiftY].map((value) => Number(value.toFixed(9)))).toEqual([5, 1]);
  });

  it('holds for a low-resolution copy of the same frame', () => {
    const small = placed(FRAME, { pixelWidth: 315, pixelHeight: 236 });
    expect(comparePlacements(small, placed(FRAME), CENTRE)).not.toBeNull();
  });

  it('sees a picture placed upside down or mirrored', () => {
    const turned: Matrix = [-80, 0, 0, -60, 100, 80];
    const mirrored: Matrix = [-80, 0, 0, 60, 100, 20];
    const [one, other] = [turned, mirrored].map((matrix) =>
      comparePlacements(placed(FRAME), placed(FRAME, { matrix }), CENTRE)!,
    );
    expect(Math.abs(one!.turnRad)).toBeCloseTo(Math.PI, 9);
    expect([one!.mirrored, other!.mirrored]).toEqual([false, true]);
    expect(other!.turnRad).toBeCloseTo(0, 9);
    for (const told of [one!, other!]) {
      expect(Math.hypot(told.shiftX, told.shiftY)).toBeCloseTo(0, 9);
      expect(told.scale).toBeCloseTo(1, 9);
    }
  });

  it('is the very map, for any shift, scale, turn and mirroring of the same data', () => {
    const carrying = fc.record({
      centreX: fc.constant(60),
      centreY: fc.constant(50),
      scale: fc.double({ min: 0.5, max: 2, noNaN: true }),
      turnDeg: fc.double({ min: -170, max: 170, noNaN: true }),
      mirrored: fc.boolean(),
      shiftX: fc.double({ min: -20, max: 20, noNaN: true }),
      shiftY: fc.double({ min: -20, max: 20, noNaN: true }),
    });
    fc.assert(
      fc.property(carrying, (given) => {
        const map = similarityFor(given);
        const dummy = placed(FRAME);
        const [a, b, c, d, e, f] = affineOf(map);
        const [p, q, r, s, t, u] = dummy.matrix;
        const matrix: Matrix = [
          a * p + c * q,
          b * p + d * q,
          a * r + c * s,
          b * r + d * s,
          a * t + c * u + e,
          b * t + d * u + f,
        ];
        const told = comparePlacements(dummy, { ...dummy, matrix }, CENTRE)!;
        expect(told.mirrored).toBe(map.mirrored);
        for (const part of ['scale', 'turnRad', 'shiftX', 'shiftY'] as const)
          expect(told[part]).toBeCloseTo(map[part], 6);
      }),
      { seed: 20261125 },
    );
  });
});

describe('placements say nothing', () => {
  it.each<[string, PlacedPicture]>([
    ['of another frame: its proportions differ', placed(FRAME, { pixelWidth: 1600, pixelHeight: 1000 })],
    [
      'where only one of the two is clipped by its window: the exporter may have cropped the data',
      placed({ x: 10, y: 10, width: 100, height: 75 }, { window: FRAME }),
    ],
    ['of a picture placed flat as a line', placed(FRAME, { matrix: [80, 0, 80, 0, 20, 20] })],
  ])('%s', (_, revision) => {
    expect(comparePlacements(placed(FRAME), revision, CENTRE)).toBeNull();
  });

  it('but the same data may be placed at any proportion', () => {
    const dummy = placed(FRAME);
    const stretched = { ...dummy, matrix: [84, 0, 0, 60, 20, 20] as const };
    expect(comparePlacements(dummy, stretched, CENTRE)).not.toBeNull();
  });
});
