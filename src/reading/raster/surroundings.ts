import type { Book } from '../pdf/book.ts';
import { HashWriter } from '../pdf/hash-writer.ts';
import { ObjectHasher } from '../pdf/object-hash.ts';
import { entryOf } from '../pdf/objects.ts';
import { printingProfile } from './printing-profile.ts';

/**
 * SHA-256 (lower-case hex) of what a file has beside its pages that drawing them leans on: the profile of its print
 * condition, and its layers. Two pages of equal content hash in files of equal surroundings are drawn to the same bytes.
 *
 * @throws {Refusal} unreadable, too-large: its layers or its profile are damaged, or nested too deeply
 */
export function surroundingsHash(book: Book): string {
  const writer = new HashWriter();
  const hasher = new ObjectHasher(book);
  hasher.beginPage();
  hasher.writeValue(writer, printingProfile(book) ?? undefined, undefined);
  hasher.writeValue(writer, entryOf(book.catalog, 'OCProperties'), undefined);
  return writer.done().toString('hex');
}
