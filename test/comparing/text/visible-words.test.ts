import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import { keepVisible } from '../../../src/comparing/text/visible-words.ts';
import type { Scene } from '../made-up-scenes.ts';
import { even } from '../made-up-scenes.ts';
import { drawPage } from '../sketched-page.ts';

const SIZE = { width: 40, height: 16 };

function visible(ink: Scene, paper: Scene): readonly string[] {
  const side = preparePage(
    drawPage({
      size: SIZE,
      artwork: [{ box: { x: 0, y: 0, ...SIZE }, scene: paper }],
      lines: [{ text: 'am hafen', x: 5, baseline: 10, ink }],
    }),
  );
  return keepVisible(side.facts.words, side).map(({ text }) => text);
}

const CHAMOIS: Scene = even(250, 240, 205);

describe('type is seen', () => {
  it.each<[string, Scene, Scene]>([
    ['in black on white', even(0, 0, 0), even(255, 255, 255)],
    ['in black on tinted paper', even(0, 0, 0), CHAMOIS],
    ['in white on tinted paper', even(255, 255, 255), CHAMOIS],
    ['in yellow on white, of which the luma hardly tells', even(255, 250, 170), even(255, 255, 255)],
  ])('%s', (_, ink, paper) => {
    expect(visible(ink, paper)).toEqual(['am', 'hafen']);
  });
});

describe('type is not seen', () => {
  it.each<[string, Scene, Scene]>([
    ['in white on white', even(255, 255, 255), even(255, 255, 255)],
    ['in the colour of tinted paper', CHAMOIS, CHAMOIS],
    ['in nearly the colour of tinted paper', even(246, 236, 200), CHAMOIS],
  ])('%s', (_, ink, paper) => {
    expect(visible(ink, paper)).toEqual([]);
  });
});
