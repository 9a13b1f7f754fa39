import { describe, expect, it } from 'vitest';
import { lumaPlane } from '../../../src/comparing/plane.ts';
import { searchCoarsely } from '../../../src/comparing/registration/coarse-search.ts';
import { standingStill } from '../../../src/comparing/registration/similarity.ts';
import type { Carrying, Scene } from '../made-up-scenes.ts';
import { carried, even, paint, photograph, recoloured, similarityFor } from '../made-up-scenes.ts';

const SIZE = { width: 44, height: 32 };
/** One pixel for each mm: as small as the search sees its planes. */
const planeOf = (scene: Scene) => {
  const raster = paint(SIZE, 25.4, [{ box: { x: 0, y: 0, ...SIZE }, scene }]);
  return lumaPlane(raster, { left: 0, top: 0, ...SIZE });
};
const CENTRE = { centreX: 22, centreY: 16 };
const scene = photograph(11, 8);
const dummy = planeOf(scene);
const still = standingStill(22, 16);

const search = (other: Scene, starts = [still], reachPx = 8) =>
  searchCoarsely({ dummy, revision: planeOf(other) }, starts, reachPx);

describe('the coarse search', () => {
  it('finds to the pixel where a picture was shifted to', () => {
    const [best] = search(carried(scene, { shiftX: -6, shiftY: 5 }));
    expect(best!.map).toEqual({ ...still, shiftX: -6, shiftY: 5 });
    expect(best!.likeness).toBeGreaterThan(0.97);
  });

  it('looks no further than its reach', () => {
    const [best] = search(carried(scene, { shiftX: -6, shiftY: 5 }), [still], 3);
    expect(Math.max(Math.abs(best!.map.shiftX), Math.abs(best!.map.shiftY))).toBeLessThanOrEqual(3);
    expect(best!.likeness).toBeLessThan(0.9);
  });

  it.each<[string, Carrying]>([
    ['enlarged', { ...CENTRE, scale: 1.28 }],
    ['reduced', { ...CENTRE, scale: 0.78 }],
    ['mirrored', { ...CENTRE, mirrored: true }],
    ['upended', { ...CENTRE, turnDeg: 180 }],
    ['turned by a few degrees', { ...CENTRE, turnDeg: -8 }],
  ])('puts the right one of several guesses first where the picture was %s', (_, carrying) => {
    const starts = [{}, { scale: 1.28 }, { scale: 0.78 }, { mirrored: true }, { turnDeg: 180 }, { turnDeg: -8 }].map(
      (guess) => similarityFor({ ...CENTRE, ...guess }),
    );
    const guesses = search(carried(scene, carrying), starts, 3);
    expect(guesses).toHaveLength(starts.length);
    const { shiftX, shiftY, ...rest } = guesses[0]!.map;
    const { shiftX: _x, shiftY: _y, ...expected } = similarityFor(carrying);
    expect(rest).toEqual(expected);
    // It reads the nearest pixel, so a step each way is left to the finer registration.
    expect(Math.max(Math.abs(shiftX), Math.abs(shiftY))).toBeLessThanOrEqual(1);
  });

  it('finds an inverted picture by its correlation turned round', () => {
    const negative = recoloured(carried(scene, { shiftX: 4 }), ([r, g, b]) => [255 - r, 255 - g, 255 - b]);
    const [best] = search(negative);
    expect(best!.map).toEqual({ ...still, shiftX: 4 });
    expect(best!.likeness).toBeLessThan(-0.97);
  });

  it('claims nothing where the other page is even', () => {
    expect(search(even(128, 128, 128))).toEqual([{ map: still, likeness: 0 }]);
  });

  it('does not take a corner that matches for the picture', () => {
    const far = { ...still, shiftX: 30, shiftY: 20 };
    // From there nothing within reach covers six tenths of the picture.
    expect(search(scene, [far], 4)).toEqual([{ map: far, likeness: 0 }]);
  });
});
