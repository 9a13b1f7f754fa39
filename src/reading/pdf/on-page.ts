import { Refusal } from '../../model/index.ts';
import type { Book } from './book.ts';

/**
 * Runs a reading of one page; a refusal from within that names no page gets this one.
 *
 * @throws {Refusal} unreadable: the page's objects are nested so deeply that they overflow the stack; and what `read`
 * refuses
 */
export function onPage<T>(book: Book, pageNumber: number, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof RangeError && /call stack/i.test(error.message)) {
      const reason = 'its objects are nested too deeply';
      throw new Refusal('unreadable', { file: book.name, reason, page: pageNumber }, error);
    }
    if (!(error instanceof Refusal) || !('what' in error.details || 'file' in error.details)) throw error;
    if ('page' in error.details || (error.kind !== 'too-large' && error.kind !== 'unreadable')) throw error;
    throw new Refusal(error.kind, { ...error.details, page: pageNumber }, error);
  }
}
