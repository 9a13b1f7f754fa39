import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inReadingOrder, linesOf } from '../../../src/comparing/text/reading-order.ts';
import type { Word } from '../../../src/model/index.ts';
import { setLine } from '../set-type.ts';

const line = (text: string, x: number, baseline: number, sizePt = 10) => setLine({ text, x, baseline, sizePt }).words;
const told = (words: readonly Word[]) => words.map(({ text }) => text).join(' ');
const turned = (text: string, x: number, y: number, turnDeg: number): Word => ({
  ...line(text, x, y)[0]!,
  turnDeg,
});

describe('words in reading order', () => {
  it('go along the line and then to the next', () => {
    const words = [...line('wie er einmal war', 10, 26), ...line('der alte hafen', 10, 20)];
    expect(told(inReadingOrder(words.reverse()))).toBe('der alte hafen wie er einmal war');
  });

  it('keep to their line where a baseline wavers by a fraction of the type size', () => {
    const words = [...line('hafen', 30, 19.6), ...line('der', 10, 20), ...line('alte', 20, 20.3)];
    expect(told(inReadingOrder(words))).toBe('der alte hafen');
  });

  it('begin a new line from a third of the type size on', () => {
    const words = [...line('eins', 30, 20), ...line('zwei', 10, 21.3)];
    expect(told(inReadingOrder(words))).toBe('eins zwei');
    expect(linesOf(words, 0).map(told)).toEqual(['eins', 'zwei']);
  });

  it('put turned words after the upright ones, by their turn', () => {
    const words = [
      turned('kopf', 5, 5, 180),
      turned('rand', 3, 40, -90),
      turned('seite', 3, 40, 90),
      ...line('text', 10, 60),
    ];
    expect(told(inReadingOrder(words))).toBe('text seite kopf rand');
  });

  it('follow turned lines along their own direction', () => {
    // Turned by 90 degrees the line runs down the page, the next one to its left.
    const words = [turned('drei', 40, 10, 90), turned('zwei', 50, 30, 90), turned('eins', 50, 10, 90)];
    expect(told(inReadingOrder(words))).toBe('eins zwei drei');
    // By 270 degrees it runs up the page, the next one to its right.
    const upwards = [turned('zwei', 50, 10, 270), turned('drei', 60, 30, 270), turned('eins', 50, 30, 270)];
    expect(told(inReadingOrder(upwards))).toBe('eins zwei drei');
  });

  it('lose and invent no word, in whatever order a file tells them, and always come out the same', () => {
    const words = [...line('der alte hafen', 10, 20), ...line('von riva', 10, 26), turned('rand', 3, 40, 90)];
    const expected = inReadingOrder(words);
    expect(expected).toHaveLength(6);
    fc.assert(
      fc.property(fc.shuffledSubarray(words, { minLength: 6, maxLength: 6 }), (shuffled) => {
        expect(inReadingOrder(shuffled)).toEqual(expected);
      }),
      { seed: 20261125 },
    );
  });

  it('are none for a page without words', () => expect(inReadingOrder([])).toEqual([]));
});
