import { join } from 'node:path';
import type { CheckRequest, DrawnAhead } from './check-request.ts';
import type { DescribedFile, ReadingTools } from './read-file.ts';
import { drawFacts } from './read-file.ts';

/**
 * Begins to draw the pages of a dummy that will be compared; behind the jobs that wait, so that workers do it which have
 * nothing else to do.
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
  const pages = dummy.pages.flatMap((page) => {
    if ('unreadable' in page || !isAsked(page.pageNumber)) return [];
    const rasterPath = rasterPathOf(page.pageNumber);
    return [[page.pageNumber, drawFacts(tools, dummy, page, { ppi, rasterPath, shelf: null })] as const];
  });
  return { rasterPathOf, pages: new Map(pages) };
}
