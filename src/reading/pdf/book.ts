import { basename } from 'node:path';
import { PDFDict } from '@cantoo/pdf-lib';
import type { PDFContext } from '@cantoo/pdf-lib';
import { Refusal } from '../../model/index.ts';
import type { Limits } from '../../model/index.ts';
import type { HashedData } from './arriving-file.ts';
import { parseObjects } from './book-parser.ts';
import { DiskFile } from './disk-file.ts';
import { asRefusal, hashBytes, readFileBytes } from './file-bytes.ts';
import { resolve } from './objects.ts';
import { collectPages } from './page-tree.ts';
import type { PageNode } from './page-tree.ts';
import { skimFile } from './skim-file.ts';
import { readStreamsFromDisk } from './streams-on-disk.ts';

const HEADER_WITHIN = 1024;
/** Of a larger file the data of long streams stay on disk. */
const SKIMMED_FROM = 4 * 2 ** 20;

/** A PDF file held open: its objects in memory, its streams still coded, those of a large file on disk. */
export interface Book {
  readonly path: string;
  /** The path's last part, as refusals name the file. */
  readonly name: string;
  /**
   * Lower-case hex; hashed when it is first asked for.
   *
   * @throws {Refusal} not-found: the book was closed before
   */
  readonly sha256: string;
  readonly bytes: number;
  readonly pageCount: number;
  readonly context: PDFContext;
  readonly catalog: PDFDict;
  readonly limits: Limits;
  /** @throws {Refusal} not-found: no such page, or the book was closed */
  page(pageNumber: number): PageNode;
  /** Lets go of the file and its bytes. */
  close(): void;
}

/**
 * Opens a PDF file for reading its pages' facts.
 *
 * @param hashed  data of this file whose hashes were taken while it arrived
 * @throws {Refusal} not-found: no such file; too-large: more bytes or pages than `limits` allow, or an object stream that
 * unfolds too far; unreadable: not a PDF, empty, truncated, encrypted, damaged, or without pages
 */
export async function openBook(path: string, limits: Limits, hashed: readonly HashedData[] = []): Promise<Book> {
  const file = await asRefusal(path, () => new DiskFile(path));
  try {
    const skimmed = file.bytes < SKIMMED_FROM || file.bytes > limits.fileBytes ? null : skimFile(file);
    if (skimmed !== null) {
      const given = { path, contents: skimmed.bytes, bytes: file.bytes, sha256: () => file.sha256().toString('hex') };
      const book = await bookOf({ ...given, close: () => file.close() }, limits);
      readStreamsFromDisk(book.context, skimmed, file, hashed);
      return book;
    }
  } catch (error) {
    file.close();
    throw error;
  }
  file.close();
  return openBookFrom({ path, contents: await readFileBytes(path, limits) }, limits);
}

/**
 * The same for a file whose bytes are in memory already; they are kept and must not change while the book is open.
 *
 * @param file  with its SHA-256 where it is known
 * @throws {Refusal} as `openBook`, but for what the disk says
 */
export async function openBookFrom(
  file: { readonly path: string; readonly contents: Buffer; readonly sha256?: string },
  limits: Limits,
): Promise<Book> {
  const { path, contents, sha256 } = file;
  let held: Buffer | null = contents;
  const hash = (): string => {
    if (held === null) throw new Refusal('not-found', { what: `${basename(path)}, which was closed` });
    return hashBytes(held);
  };
  const close = (): void => void (held = null);
  return bookOf(
    { path, contents, bytes: contents.length, sha256: sha256 === undefined ? hash : () => sha256, close },
    limits,
  );
}

/** A file's objects with what else is known of it. */
interface GivenFile {
  readonly path: string;
  /** All of it, or all but the data of its long streams. */
  readonly contents: Buffer;
  readonly bytes: number;
  readonly sha256: () => string;
  readonly close: () => void;
}

async function bookOf({ path, contents, bytes, sha256, close }: GivenFile, limits: Limits): Promise<Book> {
  const name = basename(path);
  requirePdf(contents, name);
  const context = await parse(contents, name, limits);
  const catalog = resolve(context, context.trailerInfo.Root);
  if (context.trailerInfo.Encrypt !== undefined && resolve(context, context.trailerInfo.Encrypt) !== undefined) {
    throw new Refusal('unreadable', { file: name, reason: 'it is encrypted: save it without a password' });
  }
  if (!(catalog instanceof PDFDict)) {
    throw new Refusal('unreadable', { file: name, reason: 'its catalog is missing: damaged or truncated' });
  }
  let hash: string | null = null;
  let pages: readonly PageNode[] = collectPages(context, name, limits.pages);
  return {
    path,
    name,
    get sha256() {
      return (hash ??= sha256());
    },
    bytes,
    pageCount: pages.length,
    context,
    catalog,
    limits,
    page(pageNumber) {
      const node = pages[pageNumber - 1];
      if (node === undefined) throw new Refusal('not-found', { what: `${name}: page ${pageNumber}` });
      return node;
    },
    close() {
      pages = [];
      close();
      for (const [ref] of context.enumerateIndirectObjects()) context.delete(ref);
    },
  };
}

/**
 * A file that ends before its last `startxref` was cut off; nothing of it is read, since the library would quietly take
 * what is there and a lost page would look like a page taken out.
 */
function requirePdf(contents: Buffer, file: string): void {
  if (!contents.subarray(0, HEADER_WITHIN).includes('%PDF-')) {
    throw new Refusal('unreadable', { file, reason: 'it is not a PDF file' });
  }
  const end = contents.lastIndexOf('startxref');
  if (end === -1 || contents.lastIndexOf('endobj') > end || contents.lastIndexOf(' obj') > end) {
    throw new Refusal('unreadable', { file, reason: 'it is truncated: its end is missing' });
  }
}

async function parse(contents: Buffer, file: string, limits: Limits): Promise<PDFContext> {
  try {
    return await parseObjects(contents, limits);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const cause = error instanceof Error ? error.message : String(error);
    throw new Refusal('unreadable', { file, reason: `its objects cannot be read (${cause.slice(0, 200)})` }, error);
  }
}
