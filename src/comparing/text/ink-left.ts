import type { Box, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import type { InkPair, InkShift, InkWindow } from './ink-overlay.ts';
import { cutInk, fitTones, layOver, MARGIN_PX, softenInk, STILL } from './ink-overlay.ts';

/** Contrast in levels under which nothing is drawn. */
const LEAST_CONTRAST = 12;
/** A share of the contrast that no ink leaves. */
const FAINT = 0.03;

/** Some type as both pages show it, softened alike, and the window of it to look at. */
export interface InkPlace {
  readonly pair: InkPair;
  readonly window: InkWindow;
  /** Cells of the window in a row. */
  readonly width: number;
  /** The first cell of the window, in pixels of the page. */
  readonly left: number;
  readonly top: number;
}

/**
 * The ink of a place with one cell more around it.
 *
 * @param off  where the revision has the same place against the dummy, in whole pixels
 * @returns null where both pages have the very same pixels, or the place is no larger than a pixel
 */
export function inkOfPlace(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
  off: InkShift = STILL,
): InkPlace | null {
  const { ppi } = dummy;
  const left = Math.max(0, -off.x, Math.floor(pxFromMm(box.x, ppi)) - MARGIN_PX);
  const top = Math.max(0, -off.y, Math.floor(pxFromMm(box.y, ppi)) - MARGIN_PX);
  const [across, down] = [
    Math.min(dummy.width, revision.width - off.x),
    Math.min(dummy.height, revision.height - off.y),
  ];
  const right = Math.min(across, Math.ceil(pxFromMm(box.x + box.width, ppi)) + MARGIN_PX);
  const bottom = Math.min(down, Math.ceil(pxFromMm(box.y + box.height, ppi)) + MARGIN_PX);
  if (right - left < 2 * MARGIN_PX + 2 || bottom - top < 2 * MARGIN_PX + 2) return null;
  const there = { left: left + off.x, top: top + off.y, right: right + off.x, bottom: bottom + off.y };
  const [drawn, redrawn] = [cutInk(dummy, { left, top, right, bottom }), cutInk(revision, there)];
  if (drawn.levels.every((level, at) => level === redrawn.levels[at])) return null;
  const inset = MARGIN_PX - 1;
  return {
    pair: { one: softenInk(drawn), other: softenInk(redrawn) },
    window: { left: inset, top: inset, right: right - left - inset, bottom: bottom - top - inset },
    width: right - left - 2 * inset,
    left: left + inset,
    top: top + inset,
  };
}

/** Ink that half a pixel and another tone do not explain, as a share of the contrast; positive where the level is lighter. */
export interface LeftInk {
  /** What the dummy has beyond the revision. */
  readonly dummy: Float32Array;
  /** What the revision has beyond the dummy. */
  readonly revision: Float32Array;
}

/** What is left where the pages are laid over each other; null where nothing is drawn. Outermost cells leave nothing. */
export function inkLeft({ pair, window, width }: InkPlace, shift: InkShift): LeftInk | null {
  const { one, other } = layOver(pair, window, shift);
  const { gain, offset } = fitTones({ one, other });
  const fitted = one.map((level) => gain * level + offset);
  const contrast = Math.max(contrastOf(fitted), contrastOf(other));
  if (contrast < LEAST_CONTRAST) return null;
  return { dummy: beyond(fitted, other, width, contrast), revision: beyond(other, fitted, width, contrast) };
}

/** How far each level lies outside those that the other plane has within half a pixel, by which outlines are rounded. */
function beyond(levels: Float32Array, on: Float32Array, width: number, contrast: number): Float32Array {
  const out = new Float32Array(levels.length);
  for (let row = width; row < levels.length - width; row += width) {
    for (let at = row + 1; at < row + width - 1; at++) {
      const level = levels[at]!;
      const middle = on[at]!;
      if (Math.abs(level - middle) <= FAINT * contrast) continue;
      const lighter = level > middle;
      let nearest = middle;
      for (let v = -width; v <= width; v += width) {
        for (let u = -1; u <= 1; u++) {
          const between = (middle + on[at + u]! + on[at + v]! + on[at + u + v]!) / 4;
          if (lighter ? between > nearest : between < nearest) nearest = between;
        }
      }
      if (lighter ? level > nearest : level < nearest) out[at] = (level - nearest) / contrast;
    }
  }
  return out;
}

function contrastOf(levels: Float32Array): number {
  let [least, most] = [Infinity, -Infinity];
  for (const level of levels) {
    if (level < least) least = level;
    if (level > most) most = level;
  }
  return most - least;
}
