import type { Box, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import type { InkShift, Overlay } from './ink-overlay.ts';
import { bestShift, cutInk, fitTones, layOver, MARGIN_PX, softenInk } from './ink-overlay.ts';

/**
 * Ink that came or went in 3 x 3 pixels, in pixels of full contrast. Drawing the same type as letters and as outlines leaves
 * up to 0.5; another letter in 6 pt, light or bold, leaves 0.7 and more, in 8 pt 1.3 (measured at 250 ppi).
 */
const LEAST_INK_PX = 0.65;
/** Contrast in levels under which nothing is drawn. */
const LEAST_CONTRAST = 12;
/** A share of the contrast that no ink leaves. */
const FAINT = 0.03;

/**
 * Whether type drawn on two rasters differs in its shapes: a letter, an accent, a stroke. Both are softened alike, laid over
 * each other at the best small shift, tone fitted, and what remains must be ink that came or went.
 *
 * @param box  around the type on both pages; rasters of equal, fine resolution
 */
export function inkDiffers(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
): boolean {
  const { ppi } = dummy;
  const left = Math.max(0, Math.floor(pxFromMm(box.x, ppi)) - MARGIN_PX);
  const top = Math.max(0, Math.floor(pxFromMm(box.y, ppi)) - MARGIN_PX);
  const right = Math.min(dummy.width, revision.width, Math.ceil(pxFromMm(box.x + box.width, ppi)) + MARGIN_PX);
  const bottom = Math.min(dummy.height, revision.height, Math.ceil(pxFromMm(box.y + box.height, ppi)) + MARGIN_PX);
  if (right - left < 2 * MARGIN_PX + 2 || bottom - top < 2 * MARGIN_PX + 2) return false;
  const area = { left, top, right, bottom };
  const [drawn, redrawn] = [cutInk(dummy, area), cutInk(revision, area)];
  if (drawn.levels.every((level, at) => level === redrawn.levels[at])) return false;
  const window = {
    left: MARGIN_PX - 1,
    top: MARGIN_PX - 1,
    right: right - left - MARGIN_PX + 1,
    bottom: bottom - top - MARGIN_PX + 1,
  };
  const pair = { one: softenInk(drawn), other: softenInk(redrawn) };
  // nearly all type stands exactly where it stood: the search for a small shift is for the rest
  if (!inkIsLeft(layOver(pair, window, STILL), right - left - 2 * MARGIN_PX + 2)) return false;
  const shift = bestShift(pair, window);
  return inkIsLeft(layOver(pair, window, shift), right - left - 2 * MARGIN_PX + 2);
}

const STILL: InkShift = { x: 0, y: 0 };

/** Whether ink is left over; the outermost cells only serve as neighbours. */
function inkIsLeft({ one, other }: Overlay, width: number): boolean {
  const { gain, offset } = fitTones({ one, other });
  const fitted = one.map((level) => gain * level + offset);
  const contrast = Math.max(contrastOf(fitted), contrastOf(other));
  if (contrast < LEAST_CONTRAST) return false;
  const faint = FAINT * contrast;
  const limit = LEAST_INK_PX * contrast;
  return (
    hasBlot(beyond(fitted, other, width, faint), width, limit) ||
    hasBlot(beyond(other, fitted, width, faint), width, limit)
  );
}

/**
 * How far each level lies outside those that the other plane has within half a pixel: letters sit and outlines are rounded
 * by such parts. Levels; 0 where nothing is left.
 */
function beyond(levels: Float32Array, on: Float32Array, width: number, faint: number): Float32Array {
  const out = new Float32Array(levels.length);
  for (let row = width; row < levels.length - width; row += width) {
    for (let at = row + 1; at < row + width - 1; at++) {
      const level = levels[at]!;
      const middle = on[at]!;
      const lighter = level > middle;
      if (Math.abs(level - middle) <= faint) continue;
      let nearest = middle;
      for (let v = -width; v <= width; v += width) {
        for (let u = -1; u <= 1; u++) {
          const between = (middle + on[at + u]! + on[at + v]! + on[at + u + v]!) / 4;
          if (lighter ? between > nearest : between < nearest) nearest = between;
        }
      }
      if (lighter ? level > nearest : level < nearest) out[at] = level - nearest;
    }
  }
  return out;
}

function hasBlot(left: Float32Array, width: number, limit: number): boolean {
  for (let at = width + 1; at < left.length - width - 1; at++) {
    if (left[at] === 0) continue;
    let sum = 0;
    for (let row = at - width; row <= at + width; row += width) sum += left[row - 1]! + left[row]! + left[row + 1]!;
    if (Math.abs(sum) > limit) return true;
  }
  return false;
}

function contrastOf(levels: Float32Array): number {
  let [least, most] = [Infinity, -Infinity];
  for (const level of levels) {
    if (level < least) least = level;
    if (level > most) most = level;
  }
  return most - least;
}
