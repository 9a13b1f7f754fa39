import { mmFromPx, Refusal } from '../../model/index.ts';
import type { PageRaster, ReportSide } from '../../model/index.ts';
import type { ReportSubject } from '../report-subject.ts';
import { atOnce } from './at-once.ts';
import type { Leaf, TakePicture } from './exhibit.ts';
import { shrinkTo } from './shrink.ts';

/** Pixels across a side: enough to tell its pages from each other, and to read a headline. */
const SIDE_PX = 1400;
const MM_PER_INCH = 25.4;
const NOT_DRAWN: Leaf = { shot: null, sizeMm: null };

/**
 * Draws every side of imposed sheets and hands its picture on; none where the subject has no sheets. A side that cannot be
 * drawn leaves its picture out.
 *
 * @returns one for each side of the report, in the same order
 */
export async function drawSides(subject: ReportSubject, take: TakePicture, most: number): Promise<readonly Leaf[]> {
  const { report, drawSide } = subject;
  if (report.sheets === undefined || drawSide === undefined) return [];
  return atOnce(report.sheets.sides, most, async (side): Promise<Leaf> => {
    const raster = await drawnOrNull(drawSide, side);
    if (raster === null) return NOT_DRAWN;
    const picture = await shrinkTo(raster, SIDE_PX);
    const shot = { name: `side-${side.filePage}`, width: picture.width, height: picture.height };
    await take(shot, picture, 'side');
    return { shot, sizeMm: { width: mmFromPx(raster.width, raster.ppi), height: mmFromPx(raster.height, raster.ppi) } };
  });
}

/** A side that is refused is left out; anything else that is thrown is a bug and goes on. */
async function drawnOrNull(
  drawSide: NonNullable<ReportSubject['drawSide']>,
  { filePage, width, height }: ReportSide,
): Promise<PageRaster | null> {
  try {
    return await drawSide(filePage, (SIDE_PX / Math.max(width, height)) * MM_PER_INCH);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
