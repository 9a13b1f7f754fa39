import { describe, expect, it } from 'vitest';
import { UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import type { LocalChange } from '../../../src/comparing/pictures/local-change.ts';
import { findLocalChange } from '../../../src/comparing/pictures/local-change.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { carried, even, grainy, photograph, recoloured, withPatch } from '../made-up-scenes.ts';
import { CELL_MM, layScenes } from './laid-over.ts';

const tolerances = { ...DEFAULT_TOLERANCES, retouchMm2: 1.5, retouchPercent: 0.12, retouchDeltaE: 6 };
const scene = photograph(6);
const RED = even(200, 30, 40);

const find = (dummy: Scene, revision: Scene, set = tolerances): LocalChange =>
  findLocalChange(layScenes(dummy, revision), UNCHANGED, CELL_MM, set);

/** Patches in mm of the page. */
const inMm = ({ patches }: LocalChange) =>
  patches.map(({ left, top, right, bottom, cells }) => ({
    left: left * CELL_MM,
    top: top * CELL_MM,
    right: right * CELL_MM,
    bottom: bottom * CELL_MM,
    areaMm2: cells * CELL_MM ** 2,
  }));

describe('a retouched part', () => {
  it.each([
    ['of 12 by 9 mm', { x: 20, y: 15, width: 12, height: 9 }],
    ['of 5 by 5 mm', { x: 33, y: 25, width: 5, height: 5 }],
    ['of 2.5 by 2 mm, two thousandths of the picture', { x: 10, y: 30, width: 2.5, height: 2 }],
    ['at the picture’s edge', { x: 50, y: 0, width: 10, height: 8 }],
  ])('%s is one patch in its place and of its area, with at most a soft rim of a millimetre', (_, part) => {
    const found = inMm(find(scene, withPatch(scene, part, RED)));
    expect(found).toHaveLength(1);
    const [patch] = found;
    expect(patch!.left).toBeGreaterThan(part.x - 1.1);
    expect(patch!.top).toBeGreaterThan(part.y - 1.1);
    expect(patch!.right).toBeLessThan(part.x + part.width + 1.1);
    expect(patch!.bottom).toBeLessThan(part.y + part.height + 1.1);
    expect(patch!.areaMm2).toBeGreaterThan(0.8 * part.width * part.height);
    expect(patch!.areaMm2).toBeLessThan((part.width + 2) * (part.height + 2));
  });

  it('in two places is two patches, the larger one first', () => {
    const twice = withPatch(
      withPatch(scene, { x: 8, y: 8, width: 4, height: 4 }, RED),
      { x: 40, y: 25, width: 8, height: 8 },
      RED,
    );
    const found = inMm(find(scene, twice));
    expect(found.map(({ left, top }) => [left > 30, top > 20])).toEqual([
      [true, true],
      [false, false],
    ]);
  });

  it('shows though it was moved along with its picture', () => {
    const shift = { shiftX: 1.3, shiftY: -0.8 };
    const revision = carried(withPatch(scene, { x: 20, y: 15, width: 6, height: 6 }, RED), shift);
    const laid = layScenes(scene, revision, shift);
    const [patch] = inMm(findLocalChange(laid, UNCHANGED, CELL_MM, tolerances));
    expect(Math.abs((patch!.left + patch!.right) / 2 - 23)).toBeLessThan(0.6);
    expect(Math.abs((patch!.top + patch!.bottom) / 2 - 18)).toBeLessThan(0.6);
  });

  it('counts with its share among all that speaks', () => {
    const { differingShare } = find(scene, withPatch(scene, { x: 0, y: 0, width: 15, height: 44 }, RED));
    expect(differingShare).toBeGreaterThan(0.2);
    expect(differingShare).toBeLessThan(0.3);
  });
});

describe('nothing was retouched', () => {
  const silent = { patches: [] };

  it('in a picture laid over itself', () => {
    expect(find(scene, scene)).toMatchObject({ patches: [], differingShare: 0 });
  });

  it('by grain that no two files share', () => {
    expect(find(grainy(scene, 8, 1), grainy(scene, 8, 2))).toMatchObject(silent);
  });

  it('where hard edges lie as far off as registration leaves them', () => {
    const roofs: Scene = (x, y) => ((Math.floor(x / 5) + Math.floor(y / 7)) % 2 === 0 ? [40, 45, 60] : [220, 210, 190]);
    expect(find(roofs, carried(roofs, { shiftX: 0.02, shiftY: -0.02 }))).toMatchObject(silent);
  });

  it('where a picture full of edges was sharpened on its way to press', () => {
    const gables =
      (sharpness: number): Scene =>
      (x, y) => {
        const level = 128 + 70 * Math.tanh(sharpness * Math.sin(x * 1.9) * Math.sin(y * 1.6));
        return [level, level * 0.95, level * 0.85];
      };
    expect(find(gables(1.6), gables(2.6))).toMatchObject(silent);
  });

  it('where a whole picture is a little lighter', () => {
    const lighter = recoloured(scene, ([r, g, b]) => [r + 6, g + 6, b + 6]);
    expect(find(scene, lighter)).toMatchObject(silent);
  });

  it('by a speck of dust', () => {
    expect(find(scene, withPatch(scene, { x: 20, y: 20, width: 0.3, height: 0.3 }, RED))).toMatchObject(silent);
  });

  it('in a part whose contrast no eye sees', () => {
    const faint = withPatch(
      scene,
      { x: 20, y: 15, width: 12, height: 9 },
      recoloured(scene, ([r, g, b]) => [r + 5, g + 5, b]),
    );
    expect(find(scene, faint)).toMatchObject(silent);
  });
});

describe('the tolerances decide', () => {
  const part = { x: 20, y: 15, width: 6, height: 6 };
  const revision = withPatch(scene, part, RED);

  it.each([
    ['how large a patch must be, in mm²', { retouchMm2: 80 }],
    ['how large it must be, by the area of the picture', { retouchPercent: 5 }],
    ['what contrast it must have', { retouchDeltaE: 100 }],
  ])('%s', (_, set) => {
    expect(find(scene, revision).patches).toHaveLength(1);
    expect(find(scene, revision, { ...tolerances, ...set }).patches).toEqual([]);
  });
});

describe('a picture of which nothing speaks', () => {
  it('has no changes, and no share of them', () => {
    const laid = { ...layScenes(scene, scene), speaks: new Uint8Array(118 * 87) };
    expect(findLocalChange(laid, UNCHANGED, CELL_MM, tolerances)).toMatchObject({ patches: [], differingShare: 0 });
  });
});
