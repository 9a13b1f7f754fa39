import { excerpt } from '../../../demo/book/edits/pages.ts';
import { DUMMY, FINAL } from '../../../demo/book/preparation.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import type { BookSpec, PageSpec } from '../../../demo/book/spec.ts';
import { SHELF } from '../books/shelf.ts';
import type { ShelvedBook } from '../books/shelf.ts';

/** A few pages of a book, enough to plant a fault in. */
export interface Excerpt {
  readonly book: ShelvedBook;
  readonly spec: BookSpec;
  readonly dummy: Preparation;
  readonly revision: Preparation;
}

const INKS: Preparation = { ...FINAL, ppi: 200, coding: 90 };
const SCREEN: Preparation = { ...DUMMY, ppi: 200, coding: 90, data: 'clipped' };

const PAGES = {
  /** Essay, pass, harbour, house, aeroplane with its ring, map. */
  'winter one': ['winter', [7, 13, 18, 23, 16, 9]],
  /** Mast in full bleed, grey over coloured, door and house, chapter with thistle, cat, list of plates. */
  'winter two': ['winter', [20, 21, 25, 28, 26, 31]],
  /** Two frames of the harbour, two chapters, the cat, onion, thistle, pass over a spread. */
  'winter three': ['winter', [18, 19, 12, 22, 8, 29, 30, 10, 11]],
  'winter, all': ['winter', Array.from({ length: 32 }, (_, index) => index + 1)],
  /** Type, foliage in full bleed, facade, sky and stone, four pictures, drawing. */
  'salt one': ['salt', [1, 2, 3, 4, 6, 9]],
  /** Discs in full bleed, grey beside coloured, stone, dunes beside type, four pictures, framed stone. */
  'salt two': ['salt', [8, 10, 13, 17, 18, 21]],
  /** Fog in full bleed, fog framed, sky: nothing in them can be measured finely, but the files keep the whole pictures. */
  'salt, soft': ['salt', [24, 16, 19]],
  'salt, all': ['salt', Array.from({ length: 24 }, (_, index) => index + 1)],
  /** Dunes in full bleed, sitter, stone and water, four pictures, drawing, type. */
  'ledge one': ['ledge', [2, 3, 4, 6, 9, 12]],
  /** Water, facade in full bleed, grey beside coloured, sky and foliage, discs, type. */
  'ledge two': ['ledge', [11, 13, 10, 15, 16, 20]],
} as const satisfies Record<string, readonly [ShelvedBook['name'], readonly number[]]>;

export type ExcerptName = keyof typeof PAGES;

export function openExcerpt(name: ExcerptName): Excerpt {
  const [bookName, pages] = PAGES[name];
  const book = SHELF[bookName];
  const taken = excerpt(book.spec, pages);
  const spec = name === 'salt, soft' ? { ...taken, pages: taken.pages.map(withWholePictures) } : taken;
  return { book, spec, dummy: DUMMY, revision: book.inks ? INKS : SCREEN };
}

/** As layout programs do that place a picture and do not cut it. */
function withWholePictures(page: PageSpec): PageSpec {
  const whole = { x: 0, y: 0, width: 1, height: 1 };
  return { ...page, items: page.items.map((item) => (item.kind === 'picture' ? { ...item, data: whole } : item)) };
}
