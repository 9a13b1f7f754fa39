import { PDFDict, PDFStream } from '@cantoo/pdf-lib';
import type { Book } from '../pdf/book.ts';
import { arrayEntry, elementsOf, entryOf, numberEntry } from '../pdf/objects.ts';

/**
 * The CMYK profile of the print condition that a file was prepared for, or null where it embeds none.
 *
 * @source ISO 32000-2 14.11.5: output intents, DestOutputProfile
 */
export function printingProfile(book: Book): PDFStream | null {
  const intents = arrayEntry(book.catalog, 'OutputIntents');
  for (const intent of intents === undefined ? [] : elementsOf(book.context, intents)) {
    const profile = intent instanceof PDFDict ? entryOf(intent, 'DestOutputProfile') : undefined;
    if (profile instanceof PDFStream && numberEntry(profile.dict, 'N') === 4) return profile;
  }
  return null;
}
