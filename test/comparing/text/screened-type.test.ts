import { describe, expect, it } from 'vitest';
import { UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import { comparePages } from '../../../src/comparing/index.ts';
import { shrinkRaster } from '../../../src/comparing/shrink-raster.ts';
import { timesMoreInk } from '../../../src/comparing/text/screened-type.ts';
import type { CoarseScreens } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { even } from '../made-up-scenes.ts';
import { PLATE_PPI, printedInRosettes } from '../rosette.ts';
import { setLine } from '../set-type.ts';
import type { PageSketch } from '../sketched-page.ts';
import { drawPage, drawRaster, pictureFacts } from '../sketched-page.ts';

const SIZE = { width: 46, height: 20 };
/** Printed in dots: a good half of each ink. */
const GREY = even(109, 110, 113);
const BLACK = even(0, 0, 0);
const line = (text: string, ink: Scene, baseline: number) => ({ text, x: 6, baseline, ink });
const page: PageSketch = { size: SIZE, lines: [line('der alte hafen', GREY, 8), line('am see im mai', BLACK, 15)] };
const ALL = (lpi: number): CoarseScreens => ({ cyan: lpi, magenta: lpi, yellow: lpi, black: lpi });

/** What is told of the page as plates with so many rows of dots an inch print it. */
function told(lines: PageSketch['lines'], lpi: number, coarse: CoarseScreens): readonly unknown[] {
  const dummy = drawPage(page);
  const fine = drawRaster(page, 250);
  const after = { ...page, lines: lines ?? [] };
  const printed = printedInRosettes(drawRaster(after, PLATE_PPI), 4, lpi);
  const whole = { ...pictureFacts({ x: 0, y: 0, ...SIZE }), index: 0 };
  const facts = { ...drawPage(after).facts, words: [], pictures: [whole] };
  const task = { dummy, revision: { facts, raster: shrinkRaster(printed, dummy.raster) }, coarse };
  const { findings } = comparePages(
    { ...task, fine: { dummy: fine, revision: shrinkRaster(printed, fine) }, bookConversion: UNCHANGED },
    DEFAULT_TOLERANCES,
  );
  return findings.map(({ kind, measured }) => ('before' in measured ? measured.before : kind));
}

describe('type that a coarse screen breaks up', () => {
  it('is not told as changed where the screen is known, and was where it was not', () => {
    expect(told(page.lines, 65, ALL(65))).toEqual([]);
    expect(told(page.lines, 65, {})).not.toEqual([]);
  });

  it('hides no letter of solid type, and no word of its own that is another', () => {
    expect(told([page.lines![0]!, line('am sea im mai', BLACK, 15)], 65, ALL(65))).toEqual(['see']);
    expect(told([line('der neue hafen', GREY, 8), page.lines![1]!], 65, ALL(65))).toEqual(['alte']);
  });
});

describe('how much more ink a screen adds to type or takes from it', () => {
  const box = (at: number) => setLine(page.lines![at]!).words[0]!.box;
  const onTint: PageSketch = {
    size: SIZE,
    artwork: [{ box: { x: 0, y: 0, ...SIZE }, scene: even(170, 170, 170) }],
    lines: page.lines!,
  };
  const magenta: PageSketch = { size: SIZE, lines: [line('der alte', even(250, 140, 245), 8)] };
  it.each<[string, PageSketch, number, CoarseScreens, number]>([
    ['grows with its dots, on type in a tint', page, 0, { black: 75 }, 2],
    ['is that of the coarsest', page, 0, { cyan: 75, black: 50 }, 3],
    ['is no more on solid type', page, 1, { black: 75 }, 1],
    ['is more on solid type over a tint', onTint, 1, { black: 75 }, 2],
    ['is no more where no screen is coarse', page, 0, {}, 1],
    ['is never less', page, 0, { black: 200 }, 1],
    ['hangs on the ink that the type is printed with', magenta, 0, { magenta: 75 }, 2],
    ['hangs on no ink that it has not', magenta, 0, { black: 75, cyan: 75 }, 1],
    ['is not seen of yellow', page, 0, { yellow: 50 }, 1],
  ])('%s', (_, sketch, at, coarse, times) => {
    expect(timesMoreInk(drawRaster(sketch, 250), box(at), coarse)).toBe(times);
  });
});
