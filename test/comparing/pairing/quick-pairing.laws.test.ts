import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { levelPlanes, productsOf, shrinkPlanes } from '../../../src/comparing/kernels/looks.ts';
import { describe as ready } from '../../../src/comparing/pairing/descriptor.ts';
import { nearestPages } from '../../../src/comparing/pairing/nearest-pages.ts';
import { unlikeness, unlikenessWithin } from '../../../src/comparing/pairing/page-likeness.ts';
import { bookTraits } from '../../../src/comparing/pairing/page-traits.ts';
import { pointedPages } from '../../../src/comparing/pairing/pointed-pages.ts';
import { wordTraits, wordUnlikeness } from '../../../src/comparing/pairing/word-traits.ts';
import type { PageSignature, Word } from '../../../src/model/index.ts';
import {
  convert,
  evenSignature,
  fileOf,
  pageView,
  pictureSignature,
  placedPicture,
  typeSignature,
  wordsOf,
} from './made-up-pages.ts';
import {
  plainNearest,
  plainPlanes,
  plainPointed,
  plainProduct,
  plainShrunk,
  plainTerms,
  plainWordUnlikeness,
} from './plain-pairing.ts';

const settings = { seed: 20261129, numRuns: 60 };

const anySignature: fc.Arbitrary<PageSignature> = fc.oneof(
  fc.nat(40).map(pictureSignature),
  fc.nat(40).map(typeSignature),
  fc.nat(40).map((seed) => convert(pictureSignature(seed), seed)),
  // Even pages are all as far from each other as they stand.
  fc.nat(2).map((step) => evenSignature(200 + step, 200, 190)),
  fc.uint8Array({ minLength: 3072, maxLength: 3072 }).map((cells) => ({ cells })),
);

/** Few letters, so that pages share words; also folios, words with spaces within, and others that read like two. */
const anyText = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom('ba', 'ner', 'lo', 'tis', 'Mar,', '(che)', 'du\u00a0n', 'n', 'du') },
  fc.constantFrom('12', '1234', '12345', '–', '', 'ba ner', 'ner  lo', 'a\u00a0b\u00a0c', 'b c', 'a', 'ﬁn'),
);
const anyWords: fc.Arbitrary<Word[]> = fc
  .array(anyText, { maxLength: 12 })
  .map((texts) => wordsOf('x').flatMap((word) => texts.map((text) => ({ ...word, text }))));
const anyFile = fc.array(anyWords, { maxLength: 9 });

describe('what is done quickly comes to the same, to the last bit:', () => {
  it('the planes of a signature, their products and the coarse look', () => {
    fc.assert(
      fc.property(anySignature, anySignature, (signature, second) => {
        const [one, other] = [plainPlanes(signature), plainPlanes(second)];
        const [quick, against] = [levelPlanes(signature.cells), levelPlanes(second.cells)];
        expect([...quick.means]).toEqual(one.means);
        expect([...quick.planes]).toEqual(one.planes.flat());
        const [l, b, r, n] = one.planes as [number[], number[], number[], number[]];
        const every = [l, n, b, r].flatMap((plane, at) => [l, n, b, r].slice(at).map((next) => [plane, next] as const));
        expect([...quick.products]).toEqual(every.map(([first, next]) => plainProduct(first, next)));
        expect([...productsOf(quick.planes, against.planes)]).toEqual(
          one.planes.flatMap((plane) => other.planes.map((next) => plainProduct(plane, next))),
        );
        const scale = 1 / Math.sqrt(1 + plainProduct(l, l));
        expect([...shrinkPlanes(quick.planes, scale)]).toEqual([
          ...plainShrunk(l, 2, scale),
          ...plainShrunk(b, 4, scale),
          ...plainShrunk(r, 4, scale),
        ]);
      }),
      settings,
    );
  });

  it('the nearest pages, of whole books, of books with pages that were not drawn, and where many are equally near', () => {
    const file = fc.array(fc.option(anySignature, { freq: 8 }), { maxLength: 30 });
    fc.assert(
      fc.property(file, file, fc.integer({ min: 1, max: 8 }), (before, after, most) => {
        const [dummy, revision] = [before, after].map((pages) =>
          pages.map((page) => (page === null ? null : ready(page))),
        );
        const { ofDummy, ofRevision } = nearestPages(dummy!, revision!, most);
        expect(ofDummy).toEqual(plainNearest(dummy!, revision!, most));
        expect(ofRevision).toEqual(plainNearest(revision!, dummy!, most));
      }),
      settings,
    );
  });

  it('how unlike the wording of pages is', () => {
    fc.assert(
      fc.property(anyFile, anyFile, (dummy, revision) => {
        const [before = [], after = []] = wordTraits([dummy, revision]);
        const quick = before.map((one) =>
          after.map((other) => (one === null || other === null ? null : wordUnlikeness(one, other))),
        );
        expect(quick).toEqual(plainWordUnlikeness([dummy, revision]));
      }),
      { ...settings, numRuns: 400 },
    );
  });

  it('the pages that rare words and shared pictures point to', () => {
    const page = fc.record({
      words: anyWords,
      pictures: fc.array(fc.constantFrom('p1', 'p2', 'p3'), { maxLength: 2 }),
    });
    const file = fc.array(page, { minLength: 1, maxLength: 14 });
    const viewsOf = (pages: readonly { words: Word[]; pictures: string[] }[]) =>
      fileOf(
        pages.map(({ words, pictures }) => pageView({ words, pictures: pictures.map((hash) => placedPicture(hash)) })),
      );
    fc.assert(
      fc.property(file, file, (before, after) => {
        const { dummy, revision } = bookTraits({ dummy: viewsOf(before), revision: viewsOf(after) });
        const pointers = (pages: typeof before, traits: typeof dummy) =>
          pages.map(({ words }, at) => [...plainTerms(words).terms, ...(traits[at]!.pictures?.areas.keys() ?? [])]);
        expect(pointedPages(dummy, revision)).toEqual(plainPointed(pointers(before, dummy), pointers(after, revision)));
      }),
      { ...settings, numRuns: 200 },
    );
  });

  it('whether two pages are alike enough, and how much, where wording and pictures already say that they are not', () => {
    const page = fc.record({
      signature: fc.option(anySignature, { freq: 8 }),
      words: fc.option(anyWords, { freq: 8 }),
      pictures: fc.array(
        fc.constantFrom('p1', 'p2', 'p3').map((hash) => placedPicture(hash)),
        { maxLength: 2 },
      ),
    });
    const file = fc.array(page, { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(file, file, fc.double({ min: 0, max: 1, noNaN: true }), (before, after, most) => {
        const { dummy, revision } = bookTraits({
          dummy: fileOf(before.map((one) => pageView(one))),
          revision: fileOf(after.map((one) => pageView(one))),
        });
        for (const one of dummy) {
          for (const other of revision) {
            const { whole } = unlikeness(one, other, 180);
            expect(unlikenessWithin(one, other, 180, most)).toBe(whole <= most ? whole : null);
          }
        }
      }),
      { ...settings, numRuns: 200 },
    );
  });
});
