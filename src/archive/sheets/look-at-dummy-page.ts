import { halveRaster } from '../../comparing/index.ts';
import { greyOf, shrinkRaster } from '../../plates/index.ts';
import type { Book } from '../../reading/index.ts';
import { drawPage } from '../../reading/index.ts';
import { leaveDrawn } from '../leave-drawn.ts';
import type { LookAtDummyPageJob, SeenDummyPage } from '../page-jobs.ts';
import { DUMMY_PPI, PAGE_PPI } from './look-resolutions.ts';

/**
 * Draws a page of the dummy and makes of it what it is looked for by on sheets.
 *
 * @throws {Refusal} too-large, unreadable, not-found: as `drawPage`
 */
export async function lookAtDummyPage(
  { pageNumber, rasterPath, limits }: LookAtDummyPageJob,
  book: Book,
): Promise<SeenDummyPage> {
  const drawn = await drawPage({ book, pageNumber, ppi: DUMMY_PPI, limits });
  const small = shrinkRaster(drawn.raster, PAGE_PPI);
  return { drawn: await leaveDrawn(drawn, rasterPath), grey: greyOf(small), colours: halveRaster(small) };
}
