import type { BookSpec, PageSpec } from '../spec.ts';

/** A book that is being altered, with the dummy page that each of its pages began as. */
export interface Altered {
  readonly book: BookSpec;
  /** One for each page, from 1; null for a page the dummy does not have. */
  readonly origins: readonly (number | null)[];
}

/** An alteration of a book: nothing but a function of the book. */
export type Edit = (altered: Altered) => Altered;

/** A book nothing has been done to yet. */
export function unaltered(book: BookSpec): Altered {
  return { book, origins: book.pages.map((_, index) => index + 1) };
}

/** Edits one after the other. */
export function inTurn(...edits: readonly Edit[]): Edit {
  return (altered) => edits.reduce((state, edit) => edit(state), altered);
}

/** Only these pages of a book, counted from 1, as a smaller book. */
export function excerpt(book: BookSpec, pageNumbers: readonly number[]): BookSpec {
  return { ...book, pages: pageNumbers.map((pageNumber) => requirePage(book, pageNumber)) };
}

/** Carries a page to another position, both counted from 1 in the book as it is. */
export function movePage(from: number, to: number): Edit {
  return (altered) => {
    const rows = rowsOf(altered);
    const [row] = rows.splice(from - 1, 1);
    if (row === undefined) throw new Error(`there is no page ${from}`);
    rows.splice(to - 1, 0, row);
    return fromRows(altered, rows);
  };
}

/** Exchanges two pages. */
export function swapPages(one: number, other: number): Edit {
  const [first, second] = one < other ? [one, other] : [other, one];
  return inTurn(movePage(second, first), movePage(first + 1, second));
}

export function dropPage(pageNumber: number): Edit {
  return (altered) => fromRows(altered, rowsOf(altered).toSpliced(pageNumber - 1, 1));
}

/** Puts in a page the dummy does not have, so that it becomes page `at`. */
export function addPage(at: number, page: PageSpec): Edit {
  return (altered) => fromRows(altered, rowsOf(altered).toSpliced(at - 1, 0, { page, origin: null }));
}

/** Puts a page in a second time, so that the copy becomes page `at`. */
export function repeatPage(pageNumber: number, at: number): Edit {
  return (altered) => {
    const rows = rowsOf(altered);
    const row = rows[pageNumber - 1];
    if (row === undefined) throw new Error(`there is no page ${pageNumber}`);
    return fromRows(altered, rows.toSpliced(at - 1, 0, row));
  };
}

/**
 * Changes one page and leaves it where it is.
 *
 * @throws {Error} when the change changes nothing: a fault that is not there could not be found
 */
export function changePage(pageNumber: number, change: (page: PageSpec) => PageSpec): Edit {
  return (altered) => {
    const before = requirePage(altered.book, pageNumber);
    const after = change(before);
    if (JSON.stringify(after) === JSON.stringify(before)) throw new Error(`nothing was changed on page ${pageNumber}`);
    return { ...altered, book: { ...altered.book, pages: altered.book.pages.with(pageNumber - 1, after) } };
  };
}

/** Leaves the page's paper. */
export function emptyPage(pageNumber: number): Edit {
  return changePage(pageNumber, (page) => ({ ...page, items: [] }));
}

/** Another trimmed size; what is on the page keeps its place from the top left. */
export function resizePage(pageNumber: number, size: { width: number; height: number }): Edit {
  return changePage(pageNumber, (page) => ({ ...page, trimMm: size }));
}

export function turnPage(pageNumber: number, degrees: 90 | 180 | 270): Edit {
  return changePage(pageNumber, (page) => ({ ...page, turned: degrees }));
}

interface Row {
  readonly page: PageSpec;
  readonly origin: number | null;
}

function rowsOf(altered: Altered): Row[] {
  return altered.book.pages.map((page, index) => ({ page, origin: altered.origins[index] ?? null }));
}

function fromRows(altered: Altered, rows: readonly Row[]): Altered {
  return {
    book: { ...altered.book, pages: rows.map(({ page }) => page) },
    origins: rows.map(({ origin }) => origin),
  };
}

function requirePage(book: BookSpec, pageNumber: number): PageSpec {
  const page = book.pages[pageNumber - 1];
  if (page === undefined) throw new Error(`there is no page ${pageNumber}`);
  return page;
}
