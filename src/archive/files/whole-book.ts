import type { SentFile, Tables } from '../catalogue/index.ts';
import { blobPages, bookPages, type BookPage, type BookTables } from './book-pages.ts';
import { pageList } from './page-list.ts';

/** What a file stands for, as one thing that can be signed. */
export interface WholeBook {
  /** Of the file’s bytes; of its list of pages, where they are laid over those of another file. */
  readonly sha256: string;
  /** How many, of the same. */
  readonly bytes: number;
  readonly pages: readonly BookPage[];
  /** The list of pages, where there is one. */
  readonly list: Uint8Array | null;
}

/**
 * The one notion of what a file is, for whoever signs, releases or proves: a file that was sent whole is its bytes and the
 * pages in it, which of imposed sheets are their sides; pages that were supplied again are the book that came of it, named
 * by the list of its pages.
 *
 * @returns null while one of the files was not read yet
 * @throws {Refusal} malformed: as `bookPages`
 */
export async function wholeBook(tables: BookTables & Pick<Tables, 'blobs'>, file: SentFile): Promise<WholeBook | null> {
  if (file.replaces === null) {
    const { sha256 } = file;
    const sent = await blobPages(tables, sha256);
    if (sent === null) return null;
    return { sha256, bytes: (await tables.blobs.get(sha256))?.bytes ?? 0, pages: sent, list: null };
  }
  const pages = await bookPages(tables, file);
  if (pages === null) return null;
  const { sha256, bytes } = pageList(pages);
  return { sha256, bytes: bytes.length, pages, list: bytes };
}

/** The hash under which statements name a file; null while it was not read yet. */
export async function signedHashOf(tables: BookTables & Pick<Tables, 'blobs'>, file: SentFile): Promise<string | null> {
  return file.replaces === null ? file.sha256 : ((await wholeBook(tables, file))?.sha256 ?? null);
}
