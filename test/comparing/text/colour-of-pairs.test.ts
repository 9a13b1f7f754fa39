import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import { compareText } from '../../../src/comparing/text/compare-text.ts';
import type { Finding } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Scene } from '../made-up-scenes.ts';
import { even } from '../made-up-scenes.ts';
import type { TypeLine } from '../set-type.ts';
import { setLine } from '../set-type.ts';
import { drawPage } from '../sketched-page.ts';

const SIZE = { width: 60, height: 34 };
const PAGE = { x: 0, y: 0, ...SIZE };
const BLACK = even(0, 0, 0);
const WHITE = even(255, 255, 255);

interface Set {
  readonly lines: readonly TypeLine[];
  readonly paper?: Scene;
}

function compare(dummy: Set, revision: Set): readonly Finding[] {
  const draw = ({ lines, paper = WHITE }: Set) =>
    preparePage(drawPage({ size: SIZE, lines, artwork: [{ box: PAGE, scene: paper }] }));
  const sides = { dummy: draw(dummy), revision: draw(revision) };
  return compareText(sides, null, [], DEFAULT_TOLERANCES).findings;
}

const lines = (ink: Scene, given: Partial<TypeLine> = {}): readonly TypeLine[] => [
  { text: 'der alte hafen', x: 5, baseline: 8, ink, ...given },
  { text: 'am abend', x: 5, baseline: 13, ink, ...given },
];
const recoloured = (before: Scene, after: Scene, given: Partial<TypeLine> = {}, paper = WHITE) =>
  compare({ lines: lines(before, given), paper }, { lines: lines(after, given), paper }).map(({ says }) => says);
const TOLD = ['The type looks different (its colour): “der alte hafen am abend”.'];

describe('type that only changed its colour is told once for its place', () => {
  it.each<[string, Scene, Scene, Partial<TypeLine>]>([
    ['from black to red', BLACK, even(200, 30, 30), {}],
    ['from red to black', even(200, 30, 30), BLACK, {}],
    ['from black to grey', BLACK, even(120, 120, 120), {}],
    ['from black to a dark blue', BLACK, even(20, 30, 120), {}],
    ['from red to green of the same lightness', even(200, 30, 30), even(30, 125, 30), {}],
  ])('%s', (_, before, after, given) => {
    expect(recoloured(before, after, given)).toEqual(TOLD);
  });

  it('from black to red in 6 pt, where the lines stand apart', () => {
    expect(recoloured(BLACK, even(200, 30, 30), { sizePt: 6 })).toEqual([
      'The type looks different (its colour): “der alte hafen”.',
      'The type looks different (its colour): “am abend”.',
    ]);
  });

  it('from white to yellow on a dark ground', () => {
    expect(recoloured(WHITE, even(255, 220, 0), {}, even(30, 50, 80))).toEqual(TOLD);
  });

  it('and a word alone among others is told alone', () => {
    const word = { text: 'hafen', x: 5, baseline: 8, ink: even(200, 30, 30) };
    const rest = { text: 'am abend', x: 27, baseline: 8 };
    const [finding, ...more] = compare({ lines: [{ ...word, ink: BLACK }, rest] }, { lines: [word, rest] });
    expect(more).toEqual([]);
    expect(finding).toEqual({
      kind: 'text-changed',
      weight: 'stop',
      dummyPage: 1,
      revisionPage: 1,
      box: setLine(word).words[0]!.box,
      revisionBox: setLine(word).words[0]!.box,
      measured: { before: 'hafen', after: 'hafen' },
      says: 'The type looks different (its colour): “hafen”.',
    });
  });
});

describe('type keeps its colour', () => {
  it.each<[string, Scene, Scene]>([
    ['where black became the dark grey of one black ink', BLACK, even(46, 44, 45)],
    ['where a black became a rich black', even(35, 31, 32), even(8, 6, 10)],
    ['where a red moved as far as a conversion moves it', even(200, 30, 30), even(190, 45, 38)],
  ])('%s', (_, before, after) => {
    expect(recoloured(before, after)).toEqual([]);
  });

  it('a part of a pixel further on', () => {
    const grey = even(90, 90, 90);
    expect(compare({ lines: lines(grey) }, { lines: lines(grey, { x: 5.1 }) })).toEqual([]);
  });

  it('across the border of two tints, wherever the border falls between the pixels', () => {
    const [land, lake] = [even(231, 222, 208), even(120, 190, 230)];
    const ground =
      (border: number): Scene =>
      (x, y) =>
        (y < border ? land : lake)(x, y);
    const line = [{ text: 'hafen', x: 5, baseline: 8, ink: even(120, 70, 40) }];
    const borders = Array.from({ length: 21 }, (_, at) => 5.5 + at / 10);
    const told = borders.filter(
      (border) =>
        compare({ lines: line, paper: ground(border) }, { lines: line, paper: ground(border + 0.2) }).length > 0,
    );
    expect(told).toEqual([]);
  });

  it.each<[string, (x: number, y: number) => boolean, Scene, Scene]>([
    ['sideways into a tint that changed its hue', (x) => x > 11.4, even(186, 212, 222), even(110, 130, 70)],
    ['sideways into a tint that became darker', (x) => x > 12.2, even(215, 215, 215), even(150, 150, 150)],
    ['from above into a tint that became darker', (_, y) => y > 7.5, even(215, 215, 215), even(165, 165, 165)],
  ])('where it reaches %s', (_, isIn, before, after) => {
    const line = [{ text: 'hafen', x: 5, baseline: 8, ink: even(90, 60, 40) }];
    const ground =
      (tint: Scene): Scene =>
      (x, y) =>
        (isIn(x, y) ? tint : WHITE)(x, y);
    const found = compare({ lines: line, paper: ground(before) }, { lines: line, paper: ground(after) });
    expect(found.map(({ says }) => says)).toEqual([]);
  });

  it('on paper of another tint', () => {
    const red = even(200, 30, 30);
    expect(compare({ lines: lines(red) }, { lines: lines(red), paper: even(250, 246, 238) })).toEqual([]);
  });

  it.each([12, 13, 14])('across a border of two tints of which one changed, at %s mm: that is the tint', (border) => {
    const ink = even(120, 70, 40);
    const ground =
      (lake: Scene): Scene =>
      (x, y) =>
        (x < border ? even(231, 222, 208) : lake)(x, y);
    const set = (lake: Scene): Set => ({ lines: [{ text: 'hafen', x: 5, baseline: 8, ink }], paper: ground(lake) });
    expect(compare(set(even(120, 190, 230)), set(even(200, 150, 150))).map(({ says }) => says)).toEqual([]);
  });
});

describe('type that changed its colour on a ground that stayed', () => {
  it('is told beside a border of two tints', () => {
    const ground: Scene = (x, y) => (x < 4 ? even(231, 222, 208) : even(250, 246, 238))(x, y);
    const set = (ink: Scene): Set => ({ lines: lines(ink), paper: ground });
    expect(compare(set(BLACK), set(even(200, 30, 30))).map(({ says }) => says)).toEqual(TOLD);
  });
});
