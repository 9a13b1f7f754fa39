import type { Limits, PageDescription, PageRaster, UnreadablePage } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import type { RasterPart } from '../reading/index.ts';
import type { Pool } from '../reading/pool/index.ts';
import type { BookPage } from './files/book-pages.ts';
import type { HeldLoans } from './held-loans.ts';

/** What drawing pages for people needs. */
export interface DrawingTools {
  /** Best one of its own, so that nobody waits for a comparison to see a page. */
  readonly pool: Pool;
  readonly limits: Limits;
  readonly loans: HeldLoans;
}

/**
 * Draws one page of a book that is kept, or a part of it.
 *
 * @throws {Refusal} unreadable, too-large, unavailable: the page cannot be drawn
 */
export async function drawBookPage(
  { pool, limits, loans }: DrawingTools,
  { sha256, pageNumber, unreadable }: BookPage,
  ppi: number,
  part?: RasterPart,
): Promise<PageRaster> {
  if (unreadable !== null) throw new Refusal('unreadable', { file: sha256, page: pageNumber, reason: unreadable });
  return loans.lend(sha256, (path) =>
    pool.run<PageRaster>(
      { do: 'picture', path, pageNumber, ppi, limits, ...(part === undefined ? {} : { part }) },
      { timeoutMs: limits.pageMs },
    ),
  );
}

/**
 * Describes one page of a book that is kept: where its boxes and its pictures lie.
 *
 * @throws {Refusal} unreadable, unavailable: the page cannot be described
 */
export async function describeBookPage(
  { pool, limits, loans }: DrawingTools,
  { sha256, pageNumber, unreadable }: BookPage,
): Promise<PageDescription> {
  const [page] = await loans.lend(sha256, (path) =>
    pool.run<readonly (PageDescription | UnreadablePage)[]>(
      { do: 'describe', path, first: pageNumber, last: pageNumber, limits },
      { timeoutMs: limits.pageMs },
    ),
  );
  if (page !== undefined && !('unreadable' in page)) return page;
  const reason = unreadable ?? page?.unreadable ?? 'it is not there';
  throw new Refusal('unreadable', { file: sha256, page: pageNumber, reason });
}
