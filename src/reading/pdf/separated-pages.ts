import { PDFHexString, PDFName, PDFRef, PDFString } from '@cantoo/pdf-lib';
import type { PDFArray, PDFDict } from '@cantoo/pdf-lib';
import type { Book } from './book.ts';
import { arrayEntry, dictEntry, entryOf } from './objects.ts';

/** A page that shows the plate of one ink. */
export interface SeparatedPage {
  /** From 1. */
  readonly pageNumber: number;
  /** What its ink is called. */
  readonly ink: string;
  /** Pages of the same number are of one side; from 1, in the order of the file. */
  readonly side: number;
}

/**
 * The pages of a file that has one page for each ink of each side.
 *
 * @returns null where not every page is one
 * @source ISO 32000-2 14.11.4: separation dictionaries, Pages and DeviceColorant
 */
export function separatedPages(book: Book): readonly SeparatedPage[] | null {
  const sides = new Map<string, number>();
  const pages: SeparatedPage[] = [];
  for (let pageNumber = 1; pageNumber <= book.pageCount; pageNumber++) {
    const info = dictEntry(book.page(pageNumber).dict, 'SeparationInfo');
    const ink = inkOf(info);
    const group = info === undefined ? undefined : arrayEntry(info, 'Pages');
    if (ink === null || group === undefined) return null;
    const key = keyOf(group);
    const side = sides.get(key) ?? sides.size + 1;
    sides.set(key, side);
    pages.push({ pageNumber, ink, side });
  }
  return pages;
}

function inkOf(info: PDFDict | undefined): string | null {
  const colorant = entryOf(info, 'DeviceColorant');
  if (colorant instanceof PDFName) return colorant.decodeText();
  if (colorant instanceof PDFString || colorant instanceof PDFHexString) return colorant.decodeText();
  return null;
}

/** All plates of a side name the same pages. */
function keyOf(group: PDFArray): string {
  return group
    .asArray()
    .map((page) => (page instanceof PDFRef ? page.toString() : '?'))
    .sort()
    .join(' ');
}
