import { describe, expect, it } from 'vitest';
import { comparePages } from '../../src/comparing/index.ts';
import { UNCHANGED } from '../../src/comparing/conversion/colour-map.ts';
import type { Box, Finding } from '../../src/model/index.ts';
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

const found = (changed: Partial<PageSketch>): readonly Finding[] => between(page, { ...page, ...changed });

function between(before: PageSketch, after: PageSketch): readonly Finding[] {
  const [dummy, revision] = [drawPage(before), flattened(after)];
  const fine = { dummy: dummy.raster, revision: revision.raster };
  const task = { dummy, revision, bookConversion: UNCHANGED };
  expect(comparePages({ ...task, fine: null }, DEFAULT_TOLERANCES)).toMatchObject({ findings: [], wantsFine: true });
  return comparePages({ ...task, fine }, DEFAULT_TOLERANCES).findings;
}
const told = (changed: Partial<PageSketch>): string[] => found(changed).map(({ kind }) => kind);
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

  it('tells a line once that was set longer, with what it has beyond its end', () => {
    expect(told({ lines: [{ text: 'bei hafens', x: 6, baseline: 30 }] })).toEqual(['text-changed']);
  });

  it('shows where the frames of its pictures are: moved, scaled with what is in them, cut, drawn in from the trim', () => {
    const framed = (window: Box, content: Scene) => found({ pictures: [{ window, scene: content }] });
    expect(framed({ ...WINDOW, x: 7 }, carried(scene, { shiftX: 1 }))).toMatchObject([
      { kind: 'picture-moved', measured: { shiftXmm: closeTo(1), shiftYmm: closeTo(0) } },
    ]);
    const larger = { x: 5.25, y: 3.5, width: 31.5, height: 21 };
    expect(framed(larger, carried(scene, { centreX: 21, centreY: 14, scale: 1.05 }))).toMatchObject([
      { kind: 'picture-resized', measured: { scale: closeTo(1.05) } },
    ]);
    expect(framed({ ...WINDOW, height: 18.5 }, scene)).toMatchObject([
      { kind: 'crop-altered', measured: { cutMm: { bottom: closeTo(1.5), top: closeTo(0) } } },
    ]);
    expect(framed({ ...WINDOW, x: 5, width: 31 }, scene)).toMatchObject([
      { kind: 'crop-altered', measured: { cutMm: { left: closeTo(-1), right: closeTo(0) } } },
    ]);
  });

  it('shows a picture that came in, with what it hides of the type; a tint that came in is none', () => {
    const stray = { window: { x: 14, y: 25.5, width: 18, height: 7 }, scene: photograph(8, 3) };
    expect(found({ pictures: [picture, stray] })).toMatchObject([
      { kind: 'picture-added', dummyPage: 1, box: null, revisionBox: { x: closeTo(14), width: closeTo(18) } },
    ]);
    const tint = { box: { x: 24, y: 25.5, width: 14, height: 7 }, scene: even(60, 90, 160) };
    expect(told({ artwork: [tint] })).toEqual(['artwork-changed']);
  });

  it('does not tell type as changed that a picture grew over', () => {
    const larger = {
      window: { x: 5, y: 3.3, width: 33, height: 25 },
      scene: carried(scene, { scale: 1.1, centreX: 15, centreY: 0 }),
    };
    expect(told({ pictures: [larger] })).toEqual(['crop-altered']);
  });

  it('shows a picture that no longer reaches the trim', () => {
    const bleeding = { ...page, pictures: [{ window: { x: -3, y: 4, width: 39, height: 20 }, scene }] };
    const drawnIn = { ...page, pictures: [{ window: { x: 1.2, y: 4, width: 34.8, height: 20 }, scene }] };
    expect(between(bleeding, drawnIn)).toMatchObject([
      { kind: 'crop-altered', measured: { cutMm: { left: closeTo(1.2), right: closeTo(0) } } },
    ]);
    expect(between(bleeding, bleeding)).toEqual([]);
  });
});

/** Within the pixel that edges are seen to. */
const closeTo = (value: number): number => expect.closeTo(value, 0.6) as number;
