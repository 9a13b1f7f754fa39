import type { PageDescription } from '../../model/index.ts';
import type { Book } from './book.ts';
import { pageGeometry } from './boxes.ts';
import { pageHash } from './page-hash.ts';
import { describePictures } from './pictures.ts';

/**
 * What a page's objects tell without drawing it.
 *
 * @throws {Refusal} unreadable: the page's boxes or content are damaged or missing; too-large: over one of the limits. The
 * refusal names the page, and the other pages of the book can still be described
 */
export function describePage(book: Book, pageNumber: number): PageDescription {
  const { boxes, trimmed, turnDeg } = pageGeometry(book, pageNumber);
  return {
    pageNumber,
    contentHash: pageHash(book, pageNumber),
    trimmed,
    boxes,
    turnDeg,
    pictures: describePictures(book, pageNumber),
  };
}
