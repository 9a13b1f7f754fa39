import { PDFDict } from '@cantoo/pdf-lib';
import { printedAnnotations } from './annotations.ts';
import type { Book } from './book.ts';
import { pageGeometry } from './boxes.ts';
import type { PdfRectangle } from './boxes.ts';
import { pageContent } from './content/page-content.ts';
import { HashWriter } from './hash-writer.ts';
import { ObjectHasher } from './object-hash.ts';
import { entryOf } from './objects.ts';
import { onPage } from './on-page.ts';
import { isShown, layerStates } from './optional-content.ts';

const VERSION = 'witnessleaf-page/1\n';

const hashers = new WeakMap<Book, ObjectHasher>();

/**
 * A page's content hash, `witnessleaf-page/1`, lower-case hex: equal after any lossless re-save, different after a change
 * of the marks.
 *
 * @throws {Refusal} unreadable: boxes or content are damaged or missing; too-large: over the limits of operators or of a
 * stream's bytes
 * @source src/reading/pdf/page-hash.md; what a page is by ISO 32000-2 7.7.3.3
 */
export function pageHash(book: Book, pageNumber: number): string {
  return onPage(book, pageNumber, () => {
    const { own, turnDeg, userUnit } = pageGeometry(book, pageNumber);
    const { dict, inherited } = book.page(pageNumber);
    const resources = inherited.Resources instanceof PDFDict ? inherited.Resources : undefined;
    const hasher = hashers.get(book) ?? new ObjectHasher(book);
    hashers.set(book, hasher);
    hasher.beginPage();
    const writer = new HashWriter();
    writer.raw(Buffer.from(VERSION, 'latin1'));
    for (const box of [own.media, own.crop, own.bleed, own.trim]) writeBox(writer, box);
    writer.number(turnDeg);
    writer.number(userUnit);
    hasher.writeValue(writer, entryOf(dict, 'Group'), resources);
    hasher.writeContent(writer, pageContent(book, pageNumber), resources);
    const layers = layerStates(book);
    writer.mark('[');
    for (const { dict: annotation, appearance, rect, placingFlags } of printedAnnotations(book, pageNumber)) {
      if (!isShown(layers, annotation)) continue;
      for (const corner of rect) writer.number(corner);
      writer.number(placingFlags);
      hasher.writeDenoted(writer, appearance, resources);
    }
    writer.mark(']');
    return writer.done().toString('hex');
  });
}

function writeBox(writer: HashWriter, { x0, y0, x1, y1 }: PdfRectangle): void {
  for (const corner of [x0, y0, x1, y1]) writer.number(corner);
}
