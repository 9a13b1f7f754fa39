import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { learningOrder, learningPairs } from '../../../src/comparing/conversion/learning-pairs.ts';

const MOST = 32;
const book = (pages: number): readonly { readonly revisionPage: number }[] =>
  Array.from({ length: pages }, (_, at) => ({ revisionPage: at + 1 }));

describe('the pairs that a conversion is learned from', () => {
  it('are all of a short book’s, and as many of every longer one, in its order', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1200 }), (pages) => {
        const learned = learningPairs(book(pages));
        expect(learned.length).toBe(Math.min(pages, MOST));
        expect(learned).toEqual([...learned].sort((one, other) => one.revisionPage - other.revisionPage));
      }),
    );
  });

  it('are spread over the book: between two of them lie at most three times as many pages as on average', () => {
    fc.assert(
      fc.property(fc.integer({ min: MOST, max: 1200 }), (pages) => {
        const numbers = [0, ...learningPairs(book(pages)).map(({ revisionPage }) => revisionPage), pages + 1];
        const gaps = numbers.slice(1).map((page, at) => page - numbers[at]!);
        expect(Math.max(...gaps)).toBeLessThanOrEqual(Math.ceil((3 * pages) / MOST));
      }),
    );
  });

  it('stay the same but for one where one of them is left out, and wholly where another is', () => {
    fc.assert(
      fc.property(fc.integer({ min: MOST + 1, max: 400 }), fc.nat(), (pages, pick) => {
        const all = book(pages);
        const without = all.filter(({ revisionPage }) => revisionPage !== (pick % pages) + 1);
        const [before, after] = [learningPairs(all), learningPairs(without)].map(
          (pairs) => new Set(pairs.map(({ revisionPage }) => revisionPage)),
        ) as [Set<number>, Set<number>];
        const gone = [...before].filter((page) => !after.has(page));
        expect(gone).toEqual(before.has((pick % pages) + 1) ? [(pick % pages) + 1] : []);
      }),
    );
  });

  it('come first in the learning order', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), (pages) => {
        const first = learningOrder(book(pages)).slice(0, MOST);
        expect(new Set(first)).toEqual(new Set(learningPairs(book(pages))));
      }),
    );
  });
});
