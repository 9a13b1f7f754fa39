import type { Limits } from '../model/index.ts';
import { platesFormOf } from './sheets/separations/plates-form.ts';

/** A page's identity as its file's objects tell it; `cause` says why it could not be read. */
export interface HashedPage {
  readonly pageNumber: number;
  readonly contentHash: string | null;
  readonly trimmed: { readonly width: number; readonly height: number } | null;
  readonly cause: string | null;
}

/**
 * The content hash of every page of a file; of a file of plates, the SHA-256 of each TIFF, by name.
 *
 * @throws {Refusal} unreadable, too-large, not-found: the file as a whole
 */
export async function pageHashes(path: string, limits: Limits): Promise<readonly HashedPage[]> {
  const form = await platesFormOf(path);
  if (form !== 'neither') {
    const { plateHashes } = await import('./sheets/separations/plate-hashes.ts');
    const hashes = await plateHashes(path, form, limits);
    return hashes.map((contentHash, index) => ({ pageNumber: index + 1, contentHash, trimmed: null, cause: null }));
  }
  const { describePage, openBook } = await import('../reading/index.ts');
  const book = await openBook(path, limits);
  const pages: HashedPage[] = [];
  for (let pageNumber = 1; pageNumber <= book.pageCount; pageNumber++) {
    try {
      const { contentHash, trimmed } = describePage(book, pageNumber);
      pages.push({ pageNumber, contentHash, trimmed, cause: null });
    } catch (error) {
      const cause = error instanceof Error ? error.message : String(error);
      pages.push({ pageNumber, contentHash: null, trimmed: null, cause });
    }
  }
  book.close();
  return pages;
}
