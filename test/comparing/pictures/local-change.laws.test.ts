import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import { findLocalChange } from '../../../src/comparing/pictures/local-change.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { even, photograph, withPatch } from '../made-up-scenes.ts';
import { CELL_MM, layScenes } from './laid-over.ts';

const settings = { seed: 20261125, numRuns: 10 };
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const part = fc.record({ x: within(2, 45), y: within(2, 32), width: within(3, 12), height: within(3, 9) });
const pictures = fc.integer({ min: 1, max: 300 });

describe('a part that was painted over in a colour the picture does not have', () => {
  it('is found where it is and of its size, whatever the picture shows', () => {
    fc.assert(
      fc.property(pictures, part, (seed, box) => {
        const scene = photograph(seed);
        const laid = layScenes(scene, withPatch(scene, box, even(255, 0, 255)));
        const { patches } = findLocalChange(laid, UNCHANGED, CELL_MM, DEFAULT_TOLERANCES);
        expect(patches).toHaveLength(1);
        const { left, top, right, bottom, cells } = patches[0]!;
        // Its edges may cut a cell, and a rim of smoothing and of like shades may join it.
        expect(left * CELL_MM).toBeLessThan(box.x + CELL_MM);
        expect(top * CELL_MM).toBeLessThan(box.y + CELL_MM);
        expect(right * CELL_MM).toBeGreaterThan(box.x + box.width - CELL_MM);
        expect(bottom * CELL_MM).toBeGreaterThan(box.y + box.height - CELL_MM);
        const areaMm2 = cells * CELL_MM ** 2;
        expect(areaMm2).toBeGreaterThan(0.85 * box.width * box.height);
        expect(areaMm2).toBeLessThan((box.width + 4 * CELL_MM) * (box.height + 4 * CELL_MM));
      }),
      settings,
    );
  });

  it('is no change where it was there before', () => {
    fc.assert(
      fc.property(pictures, part, (seed, box) => {
        const scene = withPatch(photograph(seed), box, even(255, 0, 255));
        expect(findLocalChange(layScenes(scene, scene), UNCHANGED, CELL_MM, DEFAULT_TOLERANCES)).toMatchObject({
          patches: [],
          differingShare: 0,
        });
      }),
      settings,
    );
  });
});
