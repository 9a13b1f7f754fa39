import { createReadStream } from 'node:fs';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import { formatPlan } from '../../plates/index.ts';
import type { Plan } from '../../plates/index.ts';
import { keepBytes } from '../blobs/index.ts';
import type { Blobs } from '../blobs/index.ts';
import type { KeptPage, Tables } from '../catalogue/index.ts';
import { openKeptFacts } from '../kept-facts.ts';
import { describeFile } from '../read-file.ts';
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
}

/**
 * Puts the book that sheets folded to, and their plan, among the blobs, and reads its pages like any file's.
 *
 * @throws {Refusal} unavailable: the disk is full or fails
 */
export async function keepFolded(
  blobs: Blobs,
  { pool, limits, factsFolder }: Pick<CheckingOrder, 'pool' | 'limits' | 'factsFolder'>,
  { foldedPath, plan }: { readonly foldedPath: string; readonly plan: Plan },
): Promise<FreshFold> {
  const book = await blobs.put(createReadStream(foldedPath));
  const tools = { pool, limits, kept: await openKeptFacts(factsFolder, RASTER_RENDERER) };
  const { pages } = await describeFile(tools, foldedPath, () => undefined);
  return { book, plan: await keepBytes(blobs, Buffer.from(formatPlan(plan))), pages: pages.map(keptPage) };
}

/** Records a folded book within a transaction; told again, the first one stays. */
export async function noteFolded(
  tables: Pick<Tables, 'blobs' | 'foldedBooks' | 'pages'>,
  { book, plan, pages }: FreshFold,
  { fileId, dummyId, at }: { readonly fileId: string; readonly dummyId: string; readonly at: number },
): Promise<void> {
  for (const { sha256, bytes } of [book, plan]) await tables.blobs.add({ sha256, bytes, at });
  await tables.pages.add({ sha256: book.sha256, pages, at });
  await tables.foldedBooks.add({ fileId, dummyId, sha256: book.sha256, plan: plan.sha256, at });
}
