import type { PageFacts, PageRaster } from '../model/index.ts';
import { describePage } from './pdf/describe-page.ts';
import { drawPage, rasterHash, type PageRequest } from './raster/draw-page.ts';
import { isBlank, pageSignature } from './raster/signature.ts';

/**
 * Everything that is known of a page, and the page drawn.
 *
 * @throws {Refusal} as `describePage` and `drawPage` do
 */
export async function readPage(request: PageRequest): Promise<{ facts: PageFacts; raster: PageRaster }> {
  const description = describePage(request.book, request.pageNumber);
  const { raster, words } = await drawPage(request);
  const facts: PageFacts = {
    ...description,
    words,
    signature: pageSignature(raster),
    rasterHash: rasterHash(raster),
    blank: isBlank(raster),
  };
  return { facts, raster };
}
