import { PDFDict, PDFName, PDFRef, PDFStream } from '@cantoo/pdf-lib';
import type { Book } from '../pdf/book.ts';
import { arrayEntry, elementsOf, numberEntry, resolve } from '../pdf/objects.ts';

/**
 * The CMYK profile of the print condition that a file was prepared for, or null where it embeds none.
 *
 * @source ISO 32000-2 14.11.5: output intents, DestOutputProfile
 */
export function printingProfile(book: Book): PDFRef | null {
  const intents = arrayEntry(book.catalog, 'OutputIntents');
  for (const intent of intents === undefined ? [] : elementsOf(book.context, intents)) {
    const ref = intent instanceof PDFDict ? intent.get(PDFName.of('DestOutputProfile')) : undefined;
    const profile = resolve(book.context, ref);
    if (ref instanceof PDFRef && profile instanceof PDFStream && numberEntry(profile.dict, 'N') === 4) return ref;
  }
  return null;
}
