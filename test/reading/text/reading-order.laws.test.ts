import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Word } from '../../../src/model/index.ts';
import { inReadingOrder } from '../../../src/reading/text/reading-order.ts';

const SIZE_PT = 10;
const LINE_MM = 5;

function word(text: string, x: number, y: number, turnDeg = 0): Word {
  const width = text.length * 1.8;
  return {
    text,
    box: { x, y: y - 3, width, height: 4 },
    origin: { x, y },
    turnDeg,
    sizePt: SIZE_PT,
    font: 'Serif',
  };
}

/** Lines of a column, words two millimetres apart. */
function column(name: string, lines: number, perLine: number, left: number, top: number): readonly Word[] {
  return Array.from({ length: lines * perLine }, (_, at) =>
    word(`${name}${String(at).padStart(2, '0')}`, left + (at % perLine) * 8, top + Math.floor(at / perLine) * LINE_MM),
  );
}

const texts = (words: readonly Word[]) => words.map(({ text }) => text);

describe('the reading order', () => {
  it('goes down one column before the next, whatever order a program wrote the words in', () => {
    const page = [
      ...column('head', 1, 3, 20, 20),
      ...column('left', 6, 4, 20, 60),
      ...column('right', 6, 4, 80, 60),
      ...column('foot', 1, 2, 20, 150),
    ];
    fc.assert(
      fc.property(fc.shuffledSubarray(page, { minLength: page.length }), (shuffled) => {
        expect(texts(inReadingOrder(shuffled))).toEqual(texts(page));
      }),
    );
  });

  it('loses no word and adds none', () => {
    const anyWord = fc
      .tuple(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 0, max: 300 }), fc.constantFrom(0, 90, -90, 30))
      .map(([x, y, turnDeg]) => word(`w${x}.${y}`, x, y, turnDeg));
    fc.assert(
      fc.property(fc.array(anyWord, { maxLength: 60 }), (words) => {
        expect(texts(inReadingOrder(words)).sort()).toEqual(texts(words).sort());
      }),
    );
  });

  it('keeps an index figure in its line', () => {
    const [before, figure, after] = [word('H', 20, 50), { ...word('2', 22.5, 51), sizePt: 6 }, word('O', 24, 50)];
    expect(texts(inReadingOrder([after, figure, before]))).toEqual(['H', '2', 'O']);
  });
});
