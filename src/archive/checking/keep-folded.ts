import { createReadStream } from 'node:fs';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import { formatPlan } from '../../plates/index.ts';
import { keepBytes } from '../blobs/index.ts';
import type { Blobs } from '../blobs/index.ts';
import type { FoldedAs, KeptPage, Tables } from '../catalogue/index.ts';
import { openKeptFacts } from '../kept-facts.ts';
import { describeFile } from '../read-file.ts';
import type { CheckedSheets } from '../sheets/sheets-request.ts';
import type { CheckingOrder } from './checking-order.ts';
import { keptPage } from './kept-page.ts';

interface PutBlob {
  readonly sha256: string;
  readonly bytes: number;
}

/** A folded book whose bytes are on disk and whose pages are read, before the catalogue knows of it. */
export interface FreshFold {
  readonly book: PutBlob;
  readonly plan: PutBlob;
  readonly pages: readonly KeptPage[];
  /** Of plates: their sides as people see them. */
  readonly sides: (PutBlob & { readonly pages: readonly KeptPage[] }) | null;
}

/**
 * Puts the book that sheets folded to, their plan, and the sides that were put together from plates among the blobs, and
 * reads their pages like any file's.
 *
 * @throws {Refusal} unavailable: the disk is full or fails
 */
export async function keepFolded(
  blobs: Blobs,
  order: Pick<CheckingOrder, 'pool' | 'limits' | 'factsFolder'>,
  { plan, foldedBook, sidesBook }: Pick<CheckedSheets, 'plan' | 'foldedBook' | 'sidesBook'>,
): Promise<FreshFold> {
  const { pages, ...book } = await keepRead(blobs, order, await foldedBook());
  const sides = await sidesBook();
  return {
    book,
    plan: await keepBytes(blobs, Buffer.from(formatPlan(plan))),
    pages,
    sides: sides === null ? null : await keepRead(blobs, order, sides),
  };
}

async function keepRead(
  blobs: Blobs,
  { pool, limits, factsFolder }: Pick<CheckingOrder, 'pool' | 'limits' | 'factsFolder'>,
  path: string,
): Promise<PutBlob & { readonly pages: readonly KeptPage[] }> {
  const { sha256, bytes } = await blobs.put(createReadStream(path));
  const tools = { pool, limits, kept: await openKeptFacts(factsFolder, RASTER_RENDERER) };
  const { pages } = await describeFile(tools, path, () => undefined);
  return { sha256, bytes, pages: pages.map(keptPage) };
}

/** Records a folded book within a transaction; told again, the first one stays. */
export async function noteFolded(
  tables: Pick<Tables, 'blobs' | 'foldedBooks' | 'pages'>,
  { book, plan, pages, sides }: FreshFold,
  { fileId, dummyId, folding, at }: Required<FoldedAs> & { readonly fileId: string; readonly at: number },
): Promise<void> {
  for (const put of [book, plan, sides]) {
    if (put !== null) await tables.blobs.add({ sha256: put.sha256, bytes: put.bytes, at });
  }
  if (sides !== null) await tables.pages.add({ sha256: sides.sha256, pages: sides.pages, at });
  await tables.pages.add({ sha256: book.sha256, pages, at });
  await tables.foldedBooks.add({
    fileId,
    dummyId,
    folding,
    sha256: book.sha256,
    plan: plan.sha256,
    sides: sides?.sha256 ?? null,
    at,
  });
}
