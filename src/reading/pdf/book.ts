import { basename } from 'node:path';
import { PDFDict } from '@cantoo/pdf-lib';
import type { PDFContext } from '@cantoo/pdf-lib';
import { Refusal } from '../../model/index.ts';
import type { Limits } from '../../model/index.ts';
import { parseObjects } from './book-parser.ts';
import { hashBytes, readFileBytes } from './file-bytes.ts';
import { resolve } from './objects.ts';
import { collectPages } from './page-tree.ts';
import type { PageNode } from './page-tree.ts';

const HEADER_WITHIN = 1024;

/** A PDF file held open: its objects in memory, its streams still coded. */
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
  /** Lets go of the file's bytes. */
  close(): void;
}

/**
 * Opens a PDF file for reading its pages' facts.
 *
 * @throws {Refusal} not-found: no such file; too-large: more bytes or pages than `limits` allow, or an object stream that
 * unfolds too far; unreadable: not a PDF, empty, truncated, encrypted, damaged, or without pages
 */
export async function openBook(path: string, limits: Limits): Promise<Book> {
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
  const { path, contents } = file;
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
  let hash = file.sha256;
  let held: Buffer | null = contents;
  let pages: readonly PageNode[] = collectPages(context, name, limits.pages);
  return {
    path,
    name,
    get sha256() {
      if (hash !== undefined) return hash;
      if (held === null) throw new Refusal('not-found', { what: `${name}, which was closed` });
      hash = hashBytes(held);
      return hash;
    },
    bytes: contents.length,
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
      held = null;
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
