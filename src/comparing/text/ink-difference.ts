import type { Box, PageRaster } from '../../model/index.ts';
import type { InkPlace } from './ink-left.ts';
import { inkLeft, inkOfPlace } from './ink-left.ts';
import type { InkShift } from './ink-overlay.ts';
import { bestShift, STILL } from './ink-overlay.ts';

/**
 * Ink that came or went in 3 x 3 pixels, in pixels of full contrast. Drawing the same type as letters and as outlines leaves
 * up to 0.5; another letter in 6 pt, light or bold, leaves 0.7 and more, in 8 pt 1.3 (measured at 250 ppi).
 */
export const LEAST_INK_PX = 0.65;

/**
 * The same where type comes from the pixels of plates: of 1246 words of plates in one bit at 1200 and in tones at 600 an inch
 * all but one left at most 0.51, that one 0.70. Another letter in small light type may leave less, and is then not told.
 */
export const LEAST_PLATE_INK_PX = 0.85;

/**
 * Whether type drawn on two rasters differs in its shapes: a letter, an accent, a stroke. Both are softened alike, laid over
 * each other at the best small shift, tone fitted, and what remains must be ink that came or went.
 *
 * @param box  around the type on both pages; rasters of equal, fine resolution
 * @param leastPx  how much ink must have come or gone
 * @param off  where the revision has the type against the dummy, in whole pixels
 */
export function inkDiffers(
  rasters: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
  leastPx = LEAST_INK_PX,
  off: InkShift = STILL,
): boolean {
  const place = inkOfPlace(rasters, box, off);
  // nearly all type stands exactly where it stood: the search for a small shift is for the rest
  if (place === null || !leavesBlot(place, STILL, leastPx)) return false;
  return leavesBlot(place, bestShift(place.pair, place.window), leastPx);
}

function leavesBlot(place: InkPlace, shift: InkShift, leastPx: number): boolean {
  const left = inkLeft(place, shift);
  return left !== null && (hasBlot(left.dummy, place.width, leastPx) || hasBlot(left.revision, place.width, leastPx));
}

function hasBlot(left: Float32Array, width: number, leastPx: number): boolean {
  for (let at = width + 1; at < left.length - width - 1; at++) {
    if (left[at] === 0) continue;
    let sum = 0;
    for (let row = at - width; row <= at + width; row += width) sum += left[row - 1]! + left[row]! + left[row + 1]!;
    if (Math.abs(sum) > leastPx) return true;
  }
  return false;
}
