import { join } from 'node:path';
import { winterBook } from '../../demo/book/a-winters-round.ts';
import { scaleContent } from '../../demo/book/edits/pictures.ts';
import { PHOTOGRAPHS } from '../../demo/book/photographs.ts';
import { DUMMY, FINAL } from '../../demo/book/preparation.ts';
import { renderBook } from '../../demo/book/render.ts';
import type { BookSpec, PageItem, PageSpec } from '../../demo/book/spec.ts';

/** How much further each further time through the book goes into its pictures. */
const CLOSER = 1.06;

/**
 * A book as long as wanted, of the demonstration's pages: each time through it its pictures are seen from closer by and
 * its lines read otherwise, so that no two pages show the same.
 */
export function longBook(pages: number): BookSpec {
  const book = winterBook();
  return {
    ...book,
    pages: Array.from({ length: pages }, (_, at) => {
      const round = Math.floor(at / book.pages.length);
      return varied(book.pages[at % book.pages.length]!, round);
    }),
  };
}

function varied(page: PageSpec, round: number): PageSpec {
  if (round === 0) return page;
  const items = page.items.map((item): PageItem => {
    if (item.kind === 'picture') return scaleContent(CLOSER ** round)(item);
    if (item.kind !== 'text') return item;
    return { ...item, lines: item.lines.map((line) => ({ ...line, text: `${line.text} ${'abcdefghij'[round - 1]}` })) };
  });
  return { ...page, items };
}

/** Writes a book as the dummy that is signed (RGB, 100 ppi) or as a final (process inks, 300 ppi). */
export function writeLongBook(book: BookSpec, as: 'dummy' | 'final', folder: string, name: string): Promise<void> {
  const workshop = { library: PHOTOGRAPHS, keptFolder: join(folder, 'kept') };
  return renderBook(book, as === 'dummy' ? DUMMY : FINAL, workshop, join(folder, name));
}
