import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Word } from '../../src/model/index.ts';
import { scaleByWords } from '../../src/plates/index.ts';

const word = (text: string, x: number, y: number, height = 3): Word => ({
  text,
  box: { x, y: y - height, width: 4 * height, height },
  origin: { x, y },
  sizePt: 3 * height,
  turnDeg: 0,
  font: 'Serif',
});
/** Words down a page and to either side of it. */
const page = (count: number, from = 0): readonly Word[] =>
  Array.from({ length: count }, (_, n) => word(`word-${from + n}`, n % 2 === 0 ? 20 : 90, 20 + 7 * n));
/** Turned about a point of the sheet, and so many times as large. */
const placed = (words: readonly Word[], scale: number, turn: number): readonly Word[] =>
  words.map(({ text, origin: { x, y } }) => {
    const [cos, sin] = [Math.cos(turn) * scale, Math.sin(turn) * scale];
    return word(text, 300 + x * cos - y * sin, 200 + x * sin + y * cos, 3 * scale);
  });

describe('the scale of pages on sheets', () => {
  it('is how far their words stand apart, whichever way the pages are turned', () => {
    const turns = [0, Math.PI / 2, Math.PI, -Math.PI / 2];
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 3, noNaN: true }), fc.constantFrom(...turns), (scale, turn) => {
        const sheet = [...placed(page(12), scale, turn), ...placed(page(12, 50), scale, -turn)];
        expect(scaleByWords([page(12), page(12, 50)], [sheet])).toBeCloseTo(scale, 9);
      }),
    );
  });

  it('is 1 where type alone was set larger', () => {
    const larger = page(20).map(({ text, origin: { x, y } }) => word(text, x, y, 4));
    expect(scaleByWords([page(20)], [larger])).toBe(1);
  });

  it('is not told by a few words, by words that stand more than once, nor by words that disagree', () => {
    expect(scaleByWords([page(7)], [page(7)])).toBeNull();
    expect(scaleByWords([page(20), page(20)], [page(20)])).toBeNull();
    const strewn = page(20).map(({ text }, n) => word(text, (n * 37) % 180, (n * 71) % 260));
    expect(scaleByWords([page(20)], [strewn])).toBeNull();
  });
});
