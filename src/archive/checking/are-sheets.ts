import type { BookPage } from '../files/book-pages.ts';

/** A side with two pages on it has twice the area of one; trims and gutters only add to that. */
const LEAST_AREA = 1.8;

/**
 * Whether a plates input is imposed sheets rather than single pages: most of its pages are as large as several of the
 * dummy's.
 *
 * @returns false where either has no page that could be read
 */
export function areSheets(dummy: readonly BookPage[], sent: readonly BookPage[]): boolean {
  const [usual, found] = [medianArea(dummy), medianArea(sent)];
  return usual !== null && found !== null && found >= LEAST_AREA * usual;
}

function medianArea(pages: readonly BookPage[]): number | null {
  const areas = pages.flatMap(({ trimmed }) => (trimmed === null ? [] : [trimmed.width * trimmed.height]));
  return areas.sort((one, other) => one - other)[areas.length >> 1] ?? null;
}
