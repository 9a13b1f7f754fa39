import { describe, expect, it } from 'vitest';
import { lumaPlane } from '../../../src/comparing/plane.ts';
import type { Refinement } from '../../../src/comparing/registration/refine.ts';
import { refineSimilarity } from '../../../src/comparing/registration/refine.ts';
import { standingStill } from '../../../src/comparing/registration/similarity.ts';
import type { Scene } from '../made-up-scenes.ts';
import { carried, even, grainy, paint, photograph, similarityFor, withPatch } from '../made-up-scenes.ts';

/** One pixel for each mm, so that lengths read as pixels. */
const SIZE = { width: 60, height: 46 };
const MIDDLE = { centreX: 30, centreY: 23 };
const scene = photograph(12, 9);

function planeOf(shown: Scene, box = { left: 0, top: 0, ...SIZE }) {
  return lumaPlane(paint(SIZE, 25.4, [{ box: { x: 0, y: 0, ...SIZE }, scene: shown }]), box);
}

interface Given {
  readonly start?: ReturnType<typeof similarityFor>;
  readonly mask?: Uint8Array;
  readonly steps?: number;
}

function refine(dummy: Scene, revision: Scene, { start, mask, steps = 12 }: Given = {}): Refinement | null {
  const planes = { dummy: planeOf(dummy), revision: planeOf(revision) };
  return refineSimilarity(planes, start ?? standingStill(30, 23), mask ?? null, steps);
}

describe('a first guess is refined', () => {
  it('to a fraction of a pixel, a part of a per cent, a part of a degree', () => {
    const given = { ...MIDDLE, shiftX: 1.3, shiftY: -0.8, scale: 1.03, turnDeg: 1.2 };
    const { map } = refine(scene, carried(scene, given))!;
    const expected = similarityFor(given);
    expect(Math.hypot(map.shiftX - expected.shiftX, map.shiftY - expected.shiftY)).toBeLessThan(0.05);
    expect(Math.abs(map.scale - expected.scale)).toBeLessThan(0.002);
    expect(Math.abs(map.turnRad - expected.turnRad)).toBeLessThan(0.002);
  });

  it('from wherever it stands nearby, to the same place', () => {
    const revision = carried(scene, { shiftX: 1, shiftY: 1 });
    const starts = [{}, { shiftX: 3 }, { shiftX: -1, shiftY: 2.5 }, { scale: 1.03 }, { turnDeg: 2 }];
    for (const start of starts) {
      const { map } = refine(scene, revision, { start: similarityFor({ ...MIDDLE, ...start }) })!;
      expect(Math.hypot(map.shiftX - 1, map.shiftY - 1)).toBeLessThan(0.05);
    }
  });

  it('and stays mirrored where it began mirrored', () => {
    const mirrored = { ...MIDDLE, mirrored: true };
    const found = refine(scene, carried(scene, { ...mirrored, shiftX: 1.5 }), { start: similarityFor(mirrored) })!;
    expect(found.map.mirrored).toBe(true);
    expect(Math.abs(found.map.shiftX - 1.5)).toBeLessThan(0.05);
    expect(found.likeness).toBeGreaterThan(0.99);
  });

  it('not at all in no steps: then it is only judged', () => {
    const start = similarityFor({ ...MIDDLE, shiftX: 2 });
    const judged = refine(scene, scene, { start, steps: 0 })!;
    expect(judged.map).toEqual(start);
    expect(judged.likeness).toBeLessThan(refine(scene, scene, { steps: 0 })!.likeness);
  });

  it('to the shift of a part of the page, whatever part was cut out', () => {
    const revision = carried(scene, { shiftX: 1.2, shiftY: 0.6 });
    const dummy = planeOf(scene, { left: 7, top: 5, width: 40, height: 33 });
    const target = planeOf(revision, { left: 3, top: 2, width: 55, height: 43 });
    const { map } = refineSimilarity({ dummy, revision: target }, standingStill(27, 21.5), null, 12)!;
    expect(Math.hypot(map.shiftX - 1.2, map.shiftY - 0.6)).toBeLessThan(0.05);
  });
});

describe('what a refinement says of itself', () => {
  const shifted = refine(scene, carried(scene, { shiftX: 12 }), { start: similarityFor({ ...MIDDLE, shiftX: 12 }) })!;

  it('how much of the picture lies on the other', () => {
    expect(shifted.overlap).toBeCloseTo(48 / 60, 1);
    expect(refine(scene, scene)!.overlap).toBeGreaterThan(0.9);
  });

  it('how like the two are over what both show', () => {
    expect(shifted.likeness).toBeGreaterThan(0.99);
    const patched = withPatch(scene, { x: 10, y: 10, width: 20, height: 20 }, even(255, 255, 255));
    expect(refine(scene, patched)!.likeness).toBeLessThan(0.9);
  });

  it('how sure it is: less where there is grain, still less where there is more', () => {
    const [clear, grain, more] = [0, 10, 25].map((levels) => {
      const [one, other] = levels === 0 ? [scene, scene] : [grainy(scene, levels, 1), grainy(scene, levels, 2)];
      return refine(one, other)!;
    });
    expect(grain!.varXX).toBeGreaterThan(clear!.varXX);
    expect(more!.varXX).toBeGreaterThan(2 * grain!.varXX);
    expect(more!.scaleDeviation).toBeGreaterThan(grain!.scaleDeviation);
    expect(more!.turnDeviation).toBeGreaterThan(grain!.turnDeviation);
  });

  it('its errors stay within three of its deviations, at least nine times of ten', () => {
    const trials = Array.from({ length: 20 }, (_, nth) => {
      const truth = { shiftX: 0.05 * nth - 0.5, shiftY: 0.4 - 0.03 * nth };
      const found = refine(grainy(scene, 14, nth), grainy(carried(scene, truth), 14, 900 + nth))!;
      const [x, y] = [found.map.shiftX - truth.shiftX, found.map.shiftY - truth.shiftY];
      return Math.abs(x) < 3 * Math.sqrt(found.varXX) && Math.abs(y) < 3 * Math.sqrt(found.varYY);
    });
    expect(trials.filter((held) => held).length).toBeGreaterThanOrEqual(18);
  });
});

describe('nothing can be said', () => {
  it('where hardly a pixel speaks', () => {
    const mask = new Uint8Array(60 * 46);
    mask.fill(1, 0, 29);
    expect(refine(scene, scene, { mask })).toBeNull();
  });

  it('where the guess leads off the other picture', () => {
    expect(refine(scene, scene, { start: similarityFor({ ...MIDDLE, shiftX: 50 }) })).toBeNull();
  });
});
