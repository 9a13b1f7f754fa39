import { findCropMarks, greyOf, gridByBoxes, halveGrey, isPageSized } from '../../plates/index.ts';
import type { Book } from '../../reading/index.ts';
import { drawPage, placedForms } from '../../reading/index.ts';
import type { LookAtSideJob, SeenSideOfSheet } from '../page-jobs.ts';
import { MARKS_PPI, PAGE_PPI } from './look-resolutions.ts';

/**
 * Draws a side of a sheet small and sees on it what it is taken apart by.
 *
 * @throws {Refusal} too-large, unreadable, not-found: as `drawPage`
 */
export async function lookAtSide(
  { pageNumber, limits, pageSize, shelf }: LookAtSideJob,
  book: Book,
): Promise<SeenSideOfSheet> {
  const ppi = pageSize === null ? PAGE_PPI : MARKS_PPI;
  const { raster, words } = await drawPage({ book, pageNumber, ppi, limits, shelf });
  const grey = greyOf(raster);
  if (pageSize === null) return { words, grey, marks: null, boxes: null };
  const boxes = gridByBoxes(
    placedForms(book, pageNumber, ({ box }) => isPageSized(box, pageSize)).map(({ box }) => box),
    pageSize,
  );
  return { words, grey: halveGrey(grey), marks: findCropMarks(grey, pageSize), boxes };
}
