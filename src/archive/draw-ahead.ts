import { join } from 'node:path';
import type { PageFacts, UnreadablePage } from '../model/index.ts';
import type { CheckRequest, DrawnAhead } from './check-request.ts';
import type { DescribedFile, ReadingTools } from './read-file.ts';
import { drawFacts } from './read-file.ts';

/**
 * Draws the pages of a dummy that will be compared, one after the other in each worker that has nothing else to do, until
 * it is ended.
 *
 * @param folder  for their rasters, until the check has ended
 */
export function drawAhead(
  tools: ReadingTools,
  dummy: DescribedFile,
  { tolerances, pages: range }: Pick<CheckRequest, 'tolerances' | 'pages'>,
  folder: string,
): DrawnAhead {
  const ppi = tolerances.analysisPpi;
  const rasterPathOf = (pageNumber: number): string => join(folder, `ahead-${pageNumber}.raster`);
  const isAsked = (page: number): boolean => range === undefined || (page >= range.first && page <= range.last);
  const left = dummy.pages.flatMap((page) => ('unreadable' in page || !isAsked(page.pageNumber) ? [] : [page]));
  const begun = new Map<number, Promise<PageFacts | UnreadablePage>>();
  const goOn = async (): Promise<void> => {
    for (let page = left.shift(); page !== undefined; page = left.shift()) {
      const rasterPath = rasterPathOf(page.pageNumber);
      const drawing = drawFacts(tools, dummy, page, { ppi, rasterPath, shelf: null });
      begun.set(page.pageNumber, drawing);
      await drawing;
    }
  };
  const going = Promise.all(Array.from({ length: tools.pool.size }, goOn));
  return {
    rasterPathOf,
    pageOf: (pageNumber) => begun.get(pageNumber),
    async end() {
      left.length = 0;
      await going;
    },
  };
}
