import { describe, expect, it } from 'vitest';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import { comparePages } from '../../src/comparing/index.ts';
import { shrinkRaster } from '../../src/comparing/shrink-raster.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { even, photograph, withPatch } from './made-up-scenes.ts';
import { PLATE_PPI, printedInRosettes } from './rosette.ts';
import type { PageSketch } from './sketched-page.ts';
import { drawPage, drawRaster, pictureFacts } from './sketched-page.ts';

const SIZE = { width: 40, height: 28 };
const scene = photograph(3, 3);
const window = { x: 3, y: 3, width: 20, height: 15 };
const tint = (x: number, ...rgb: [number, number, number]) => ({
  box: { x, y: 3, width: 5, height: 15 },
  scene: even(...rgb),
});
/** A picture, tints of two and of three inks, type. */
const page: PageSketch = {
  size: SIZE,
  pictures: [{ window, scene }],
  artwork: [tint(25, 150, 190, 210), tint(32, 205, 180, 140)],
  lines: [{ text: 'am hafen', x: 6, baseline: 24 }],
};
/** 300 an inch: at least what plates are brought down to. */
const TIMES = 4;

function told(changed: Partial<PageSketch>): string[] {
  const dummy = drawPage(page);
  const after = { ...page, ...changed };
  const fine = drawRaster(page, 250);
  const printed = printedInRosettes(drawRaster(after, PLATE_PPI), TIMES);
  const facts = {
    ...drawPage(after).facts,
    words: [],
    pictures: [{ ...pictureFacts({ x: 0, y: 0, ...SIZE }), index: 0 }],
  };
  const revision = { facts, raster: shrinkRaster(printed, dummy.raster) };
  const task = { dummy, revision, fine: { dummy: fine, revision: shrinkRaster(printed, fine) } };
  return comparePages({ ...task, bookConversion: UNCHANGED }, DEFAULT_TOLERANCES).findings.map(({ kind }) => kind);
}

describe('dots of four inks at four angles', () => {
  it('are no change of tints, pictures and type', () => {
    expect(told({})).toEqual([]);
  });

  it.each<[string, string, Partial<PageSketch>]>([
    [
      'retouching',
      'picture-retouched',
      { pictures: [{ window, scene: withPatch(scene, { x: 10, y: 8, width: 4, height: 4 }, even(210, 20, 30)) }] },
    ],
    ['other tint', 'artwork-changed', { artwork: [tint(25, 150, 190, 210), tint(32, 205, 140, 140)] }],
    ['other letter', 'text-changed', { lines: [{ text: 'am haken', x: 6, baseline: 24 }] }],
  ])('hide no %s', (_, kind, changed) => {
    expect(told(changed)).toEqual([kind]);
  });
});
