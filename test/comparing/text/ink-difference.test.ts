import { describe, expect, it } from 'vitest';
import { inkDiffers } from '../../../src/comparing/text/ink-difference.ts';
import type { Box } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { even } from '../made-up-scenes.ts';
import type { TypeLine } from '../set-type.ts';
import type { PageSketch } from '../sketched-page.ts';
import { drawRaster, FINE_PPI } from '../sketched-page.ts';

const BOX: Box = { x: 4.6, y: 5.8, width: 32, height: 5.6 };
const SIZE = { width: 40, height: 16 };
const PAGE: Box = { x: 0, y: 0, ...SIZE };
const draw = (sketch: PageSketch) => drawRaster({ size: SIZE, ...sketch }, FINE_PPI);
const set = (text: string, given: Partial<TypeLine> = {}, ground?: Scene) =>
  draw({
    artwork: ground === undefined ? [] : [{ box: PAGE, scene: ground }],
    lines: [{ text, x: 5, baseline: 10, ...given }],
  });
const differ = (dummy: ReturnType<typeof draw>, revision: ReturnType<typeof draw>, box = BOX) =>
  inkDiffers({ dummy, revision }, box);

describe('type drawn in two ways has the same ink', () => {
  const words = set('café am see');
  it.each<[string, ReturnType<typeof draw>]>([
    ['where it is the same', set('café am see')],
    ['where it sits a part of a pixel off', set('café am see', { x: 5.04, baseline: 9.97 })],
    ['where it sits a pixel off both ways', set('café am see', { x: 5.127, baseline: 9.873 })],
    ['where its black became a dark grey', set('café am see', { ink: even(45, 45, 50) })],
    ['where the paper under it is toned', set('café am see', {}, even(240, 236, 225))],
  ])('%s', (_, other) => {
    expect(differ(words, other)).toBe(false);
    expect(differ(other, words)).toBe(false);
  });
});

describe('type has other ink', () => {
  const words = set('café am see');
  it.each<[string, ReturnType<typeof draw>]>([
    ['where a letter changed', set('cafö am see')],
    ['where an accent is lost', set('cafe am see')],
    ['where a letter more stands at the end', set('café am seer')],
    ['where a word is gone', set('café  see')],
    ['where everything is gone', draw({})],
    ['where it was set in another alphabet', set('café am see', { shapes: 'other' })],
    [
      'where a rule was drawn through it',
      draw({
        lines: [{ text: 'café am see', x: 5, baseline: 10 }],
        artwork: [{ box: { x: 5, y: 8.6, width: 24, height: 0.3 }, scene: even(0, 0, 0) }],
      }),
    ],
  ])('%s', (_, other) => {
    expect(differ(words, other)).toBe(true);
    expect(differ(other, words)).toBe(true);
  });

  it('where a folio in 6 pt counts one more', () => {
    const folio = (text: string) => set(text, { sizePt: 6 });
    expect(differ(folio('147'), folio('148'), { x: 4.6, y: 7, width: 6, height: 4 })).toBe(true);
    expect(differ(folio('147'), folio('147'), { x: 4.6, y: 7, width: 6, height: 4 })).toBe(false);
  });
});

describe('there is no ink to judge', () => {
  it.each<[string, ReturnType<typeof draw>, ReturnType<typeof draw>, Box]>([
    ['on bare paper', draw({}), draw({}), BOX],
    ['on two tints', draw({ artwork: [{ box: PAGE, scene: even(200, 200, 200) }] }), draw({}), BOX],
    ['in a box off the page', set('hafen'), draw({}), { x: 60, y: 6, width: 5, height: 5 }],
    ['in a box of no size', set('hafen'), draw({}), { x: 6, y: 8, width: 0, height: 0 }],
  ])('%s', (_, dummy, revision, box) => {
    expect(differ(dummy, revision, box)).toBe(false);
  });
});
