import { describe, expect, it } from 'vitest';
import { comparePages } from '../../src/comparing/index.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Scene } from './made-up-scenes.ts';
import { carried, even, photograph, withPatch } from './made-up-scenes.ts';
import type { PageSketch, SketchedPicture } from './sketched-page.ts';
import { drawPage, pictureFacts } from './sketched-page.ts';

const SIZE = { width: 44, height: 34 };
const WINDOW = { x: 6, y: 4, width: 30, height: 20 };
const scene = photograph(3, 3);
const picture: SketchedPicture = { window: WINDOW, scene };
const page: PageSketch = { size: SIZE, pictures: [picture], lines: [{ text: 'am hafen', x: 6, baseline: 30 }] };
const whole = { ...pictureFacts({ x: 0, y: 0, ...SIZE }), index: 0 };

/** The page as plates have it: one picture from edge to edge, no word. */
function flattened(sketch: PageSketch) {
  const { facts, raster } = drawPage(sketch);
  return { facts: { ...facts, pictures: [whole], words: [] }, raster };
}

function told(changed: Partial<PageSketch>): string[] {
  const [dummy, revision] = [drawPage(page), flattened({ ...page, ...changed })];
  const fine = { dummy: dummy.raster, revision: revision.raster };
  const task = { dummy, revision, bookConversion: UNCHANGED };
  expect(comparePages({ ...task, fine: null }, DEFAULT_TOLERANCES)).toMatchObject({ findings: [], wantsFine: true });
  return comparePages({ ...task, fine }, DEFAULT_TOLERANCES).findings.map(({ kind }) => kind);
}
const showing = (other: Scene): string[] => told({ pictures: [{ ...picture, scene: other }] });

describe('a page that is one picture from edge to edge', () => {
  it('is the same page where its pixels are', () => {
    expect(told({})).toEqual([]);
  });

  it('is judged where the dummy has its pictures: cropped, retouched, another one, none', () => {
    expect(showing(carried(scene, { shiftX: 2 }))).toEqual(['crop-altered']);
    expect(showing(withPatch(scene, { x: 18, y: 10, width: 5, height: 5 }, even(210, 20, 30)))).toEqual([
      'picture-retouched',
    ]);
    expect(showing(photograph(11, 2))).toEqual(['picture-replaced']);
    expect(told({ pictures: [] })).toEqual(['picture-missing']);
  });

  it('tells what else is drawn, and type by its shapes', () => {
    expect(told({ artwork: [{ box: { x: 38, y: 4, width: 4, height: 20 }, scene: even(60, 90, 160) }] })).toEqual([
      'artwork-changed',
    ]);
    expect(told({ lines: [{ text: 'am haken', x: 6, baseline: 30 }] })).toEqual(['text-changed']);
  });
});
