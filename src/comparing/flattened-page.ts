import type { Box, PageRaster } from '../model/index.ts';
import { areaMm2 } from '../model/index.ts';
import type { PageSide } from './page-sides.ts';
import { pixelsWithin } from './pictures/visible-window.ts';
import { uncovered } from './regions/cover.ts';

/** Of the trimmed page; what is left is the rim that rounding to pixels gives. */
const WHOLE_PAGE = 0.98;
/** Levels below white at which there still is only paper. */
const PAPER_LEVELS = 16;
/** So much of a place must be paper for nothing to stand there: an edge of a neighbour may reach in. */
const PAPER_SHARE = 0.97;

/**
 * Whether the revision's page is one picture from edge to edge, as plates and scans have it, while the dummy tells its
 * parts. Its pictures then have to be looked for where the dummy has them: placement tells nothing, pixels do.
 */
export function isFlattened(dummy: PageSide, revision: PageSide): boolean {
  if (revision.facts.words.length > 0 || !isOnePicture(revision)) return false;
  return dummy.facts.words.length > 0 || !isOnePicture(dummy);
}

function isOnePicture({ pictures, facts: { trimmed } }: PageSide): boolean {
  const [only] = pictures;
  return pictures.length === 1 && areaMm2(only!.window) >= WHOLE_PAGE * trimmed.width * trimmed.height;
}

/**
 * Whether a place of a page is bare paper.
 *
 * @param but  places on the page that do not count, mm
 */
export function isPaper(raster: PageRaster, box: Box, but: readonly Box[] = []): boolean {
  const place = pixelsWithin(box, raster, 1);
  const { left, top, width, height } = place;
  const counts = uncovered(place, raster.ppi, but);
  let [inked, all] = [0, 0];
  for (let y = top, cell = 0; y < top + height; y++) {
    for (let x = left, at = (y * raster.width + left) * 3; x < left + width; x++, at += 3, cell++) {
      if (counts[cell] === 0) continue;
      all += 1;
      if (Math.min(raster.rgb[at]!, raster.rgb[at + 1]!, raster.rgb[at + 2]!) < 255 - PAPER_LEVELS) inked += 1;
    }
  }
  return inked <= (1 - PAPER_SHARE) * all;
}
