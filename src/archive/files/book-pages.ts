import type { FoldedAs, FoldedBook, KeptPage, SentFile, Tables } from '../catalogue/index.ts';
import { layOver } from './lay-over.ts';

/** A page of a whole book: the blob it lies in, its number there, and its identity. */
export interface BookPage {
  readonly sha256: string;
  /** In that blob, from 1. */
  readonly pageNumber: number;
  readonly contentHash: string | null;
  /** In mm; null where it could not be read. */
  readonly trimmed: { readonly width: number; readonly height: number } | null;
  /** Why it could not be read. */
  readonly unreadable: string | null;
}

/** Where the pages of books are looked up. */
export type BookTables = Pick<Tables, 'files' | 'foldedBooks' | 'pages'>;

/**
 * The whole book that a file stands for: its own pages; the book that its sheets fold to, once they were taken apart; or
 * the file below with these laid over it.
 *
 * @param as  sheets as they were folded for a report, where they were; else as they were last
 * @returns null while one of the files was not read yet
 * @throws {Refusal} malformed: pages were supplied again that do not fit into the file below
 */
export async function bookPages(tables: BookTables, file: SentFile, as?: FoldedAs): Promise<BookPage[] | null> {
  const folded = await foldedBook(tables, file, as);
  const own = await blobPages(tables, folded?.sha256 ?? file.sha256);
  if (own === null || file.replaces === null) return own;
  const { fileId, pages } = file.replaces;
  const below = await tables.files.get(fileId);
  const base = below && (await bookPages(tables, below, as && { dummyId: as.dummyId }));
  return base && [...layOver(base, own, pages)];
}

/**
 * The pages of a blob as they lie in it: of imposed sheets, their sides.
 *
 * @returns null while it was not read yet
 */
export async function blobPages(tables: Pick<Tables, 'pages'>, sha256: string): Promise<BookPage[] | null> {
  return (await tables.pages.ofBlob(sha256))?.map((page) => bookPageOf(sha256, page)) ?? null;
}

/**
 * The sides of a file of sheets as people see them: its own pages; or, where they came as plates and were taken apart,
 * what was put together from these.
 *
 * @param as  as `bookPages`
 * @returns null while it was not read yet
 */
export async function sidesOf(
  tables: Pick<BookTables, 'foldedBooks' | 'pages'>,
  file: SentFile,
  as?: FoldedAs,
): Promise<BookPage[] | null> {
  const folded = await foldedBook(tables, file, as);
  return blobPages(tables, folded?.sides ?? file.sha256);
}

async function foldedBook(
  { foldedBooks }: Pick<BookTables, 'foldedBooks'>,
  { id }: SentFile,
  as: FoldedAs | undefined,
): Promise<FoldedBook | null> {
  return (as === undefined ? null : await foldedBooks.ofFile(id, as)) ?? foldedBooks.ofFile(id);
}

/** The files whose blobs a book may have pages of: the file itself, then what it is laid over. */
export async function filesOfBook(tables: Pick<Tables, 'files'>, file: SentFile): Promise<readonly SentFile[]> {
  const below = file.replaces && (await tables.files.get(file.replaces.fileId));
  return below === null ? [file] : [file, ...(await filesOfBook(tables, below))];
}

/** A page that the catalogue keeps, with the blob it lies in. */
export function bookPageOf(sha256: string, page: KeptPage): BookPage {
  const { pageNumber } = page;
  if ('unreadable' in page) {
    return { sha256, pageNumber, contentHash: null, trimmed: null, unreadable: page.unreadable };
  }
  const { contentHash, widthMm: width, heightMm: height } = page;
  return { sha256, pageNumber, contentHash, trimmed: { width, height }, unreadable: null };
}
