import { PDFName, PDFRef, PDFStream, type PDFObject } from '@cantoo/pdf-lib';
import { nameEntry } from '../pdf/objects.ts';
import type { Placement } from '../pdf/placement.ts';

/** Smaller pictures are taken along whether the page draws them or not: they may stand in a font's glyphs. */
const SMALL_BYTES = 16384;

/**
 * Tells the pictures that a page draws, with their masks, from those that stand in its resources only because the whole
 * book shares them.
 */
export function neededPictures(placements: readonly Placement[]): (ref: PDFRef, object: PDFObject) => boolean {
  const needed = new Set<PDFObject>();
  for (const { ref, dict } of placements) {
    for (const object of [ref, dict.get(PDFName.of('SMask')), dict.get(PDFName.of('Mask'))]) {
      if (object instanceof PDFRef) needed.add(object);
    }
  }
  return (ref, object) =>
    !(object instanceof PDFStream) ||
    object.getContentsSize() <= SMALL_BYTES ||
    nameEntry(object.dict, 'Subtype') !== 'Image' ||
    needed.has(ref);
}
