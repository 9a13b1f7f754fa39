import type { FileIdentity } from '../../model/index.ts';
import type { Blobs } from '../blobs/index.ts';
import type { AssembledBook, BookToCheck, KnownFile } from '../check-request.ts';
import type { SentFile } from '../catalogue/index.ts';
import type { BookPage } from './book-pages.ts';
import { pageList } from './page-list.ts';

/** Lends several blobs at once; the paths by the hashes. */
export async function lendAll<T>(
  blobs: Blobs,
  hashes: Iterable<string>,
  use: (paths: ReadonlyMap<string, string>) => Promise<T>,
): Promise<T> {
  const [first, ...rest] = new Set(hashes);
  if (first === undefined) return use(new Map());
  return blobs.lend(first, (path) => lendAll(blobs, rest, (paths) => use(new Map([[first, path], ...paths]))));
}

/** Pages, wherever they lie, as one book for a check; the list of them gives the book its hash. */
export async function assembleBook(
  blobs: Blobs,
  pages: readonly Pick<BookPage, 'sha256' | 'pageNumber'>[],
  paths: ReadonlyMap<string, string>,
): Promise<AssembledBook> {
  const sizes = new Map<string, number>();
  for (const sha256 of new Set(pages.map((page) => page.sha256))) sizes.set(sha256, (await blobs.sizeOf(sha256)) ?? 0);
  const { sha256, bytes } = pageList(pages);
  const identity: FileIdentity = { sha256, bytes: bytes.length, pages: pages.length };
  const sources = pages.map((page) => ({
    path: paths.get(page.sha256) ?? '',
    sha256: page.sha256,
    bytes: sizes.get(page.sha256) ?? 0,
    pageNumber: page.pageNumber,
  }));
  return { identity, pages: sources };
}

/** A file as a check takes it: itself where it is whole, its pages where they are laid over another file's. */
export async function bookToCheck(
  blobs: Blobs,
  file: SentFile,
  pages: readonly BookPage[],
  paths: ReadonlyMap<string, string>,
): Promise<BookToCheck> {
  if (file.replaces !== null) return assembleBook(blobs, pages, paths);
  return lentFile(blobs, file.sha256, paths.get(file.sha256) ?? '');
}

/** A blob that is lent, as a file whose hash need not be taken again. */
export async function lentFile(blobs: Pick<Blobs, 'sizeOf'>, sha256: string, path: string): Promise<KnownFile> {
  return { path, sha256, bytes: (await blobs.sizeOf(sha256)) ?? 0 };
}
