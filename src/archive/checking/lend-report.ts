import { Refusal } from '../../model/index.ts';
import type { Limits, PageRaster } from '../../model/index.ts';
import type { Pool } from '../../reading/pool/index.ts';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import type { KeptReport } from '../catalogue/index.ts';
import { bookPages, sidesOf } from '../files/book-pages.ts';
import type { BookPage } from '../files/book-pages.ts';
import { lendAll } from '../files/lend-book.ts';
import { openKeptFacts } from '../kept-facts.ts';
import type { Archive } from '../open-archive.ts';
import { drawSource } from '../read-file.ts';
import { readReport } from '../read-report.ts';
import type { ReportToDraw } from './checking-order.ts';
import { fileOf } from './file-of.ts';

/**
 * Lends a kept report with both its books, whose pages are drawn as they are asked for.
 *
 * @throws {Refusal} not-found: while it is used, a page that is none
 */
export async function lendReport<T>(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  { pool, limits }: { readonly pool: Pool; readonly limits: Limits },
  kept: KeptReport,
  use: (lent: Omit<ReportToDraw, 'onProgress'>) => Promise<T>,
): Promise<T> {
  const [dummy, file] = [await fileOf(catalogue, kept.dummyId), await fileOf(catalogue, kept.fileId)];
  // sheets as they were folded for this report: another dummy may have come since
  const revision = await bookPages(catalogue, file, kept);
  const pages = { dummy: await bookPages(catalogue, dummy), revision };
  const sides = await sidesOf(catalogue, file, kept);
  const hashes = [...(pages.dummy ?? []), ...(pages.revision ?? []), ...(sides ?? [])].map(({ sha256 }) => sha256);
  const report = await readReport(blobs, kept.sha256);
  const tools = { pool, limits, kept: await openKeptFacts(null, RASTER_RENDERER) };
  return lendAll(blobs, hashes, (paths) => {
    const draw = async (book: readonly BookPage[] | null, pageNumber: number, ppi: number): Promise<PageRaster> => {
      const page = book?.[pageNumber - 1];
      if (page === undefined) throw new Refusal('not-found', { what: `page ${pageNumber}` });
      return drawSource(tools, { path: paths.get(page.sha256) ?? '', pageNumber: page.pageNumber }, ppi);
    };
    return use({
      ...{ kept, report, dummy, file },
      drawPage: (side, pageNumber, ppi) => draw(pages[side], pageNumber, ppi),
      drawSide: (filePage, ppi) => draw(sides, filePage, ppi),
    });
  });
}
