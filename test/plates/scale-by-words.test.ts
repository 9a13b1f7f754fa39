import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Word } from '../../src/model/index.ts';
import { scaleByWords } from '../../src/plates/index.ts';

const word = (text: string, width: number, height: number): Word => ({
  text,
  box: { x: 10, y: 10, width, height },
  origin: { x: 10, y: 10 + height },
  sizePt: 10,
  turnDeg: 0,
  font: 'Serif',
});
const page = (count: number): readonly Word[] =>
  Array.from({ length: count }, (_, n) => word(`word-${n}`, 8 + (n % 7), 3));

describe('the scale of pages on sheets', () => {
  it('is what their words say, however they are turned', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 3, noNaN: true }), fc.boolean(), (scale, lying) => {
        const sheet = page(20).map(({ text, box: { width, height } }) =>
          lying ? word(text, height * scale, width * scale) : word(text, width * scale, height * scale),
        );
        expect(scaleByWords([page(20)], [sheet])).toBeCloseTo(scale, 9);
      }),
    );
  });

  it('is not told by a few words, by words that stand more than once, nor by words that disagree', () => {
    expect(scaleByWords([page(7)], [page(7)])).toBeNull();
    expect(scaleByWords([[...page(20), ...page(20)]], [page(20)])).toBeNull();
    const other = page(20).map(({ text, box }, n) => word(text, box.width * (0.8 + 0.02 * n), box.height));
    expect(scaleByWords([page(20)], [other])).toBeNull();
  });
});
