import { halveRaster } from '../../comparing/index.ts';
import { MM_PER_INCH } from '../../model/index.ts';
import { findCropMarks, greyOf, gridByBoxes, halveGrey, isPageSized } from '../../plates/index.ts';
import type { Book } from '../../reading/index.ts';
import { drawPage, placedForms } from '../../reading/index.ts';
import type { LookJob, SeenPage } from '../page-jobs.ts';

/** Two pixels a millimetre to recognise and measure pages by; twice that for hairlines. */
const PAGE_PPI = 2 * MM_PER_INCH;
const MARKS_PPI = 4 * MM_PER_INCH;

/**
 * Draws a page small and sees on it what sheets are taken apart by.
 *
 * @throws {Refusal} too-large, unreadable, not-found: as `drawPage`
 */
export async function lookAtPage({ pageNumber, limits, side, shelf }: LookJob, book: Book): Promise<SeenPage> {
  const pageSize = side?.pageSize ?? null;
  const ppi = pageSize === null ? PAGE_PPI : MARKS_PPI;
  const { raster, words } = await drawPage({ book, pageNumber, ppi, limits, shelf });
  const grey = greyOf(raster);
  if (side === null) return { words, grey, colours: halveRaster(raster), marks: null, boxes: null };
  if (pageSize === null) return { words, grey, colours: null, marks: null, boxes: null };
  const boxes = gridByBoxes(
    placedForms(book, pageNumber, (box) => isPageSized(box, pageSize)),
    pageSize,
  );
  return { words, grey: halveGrey(grey), colours: null, marks: findCropMarks(grey, pageSize), boxes };
}
