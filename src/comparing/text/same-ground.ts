import type { Box, PageRaster, Word } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import { growBox, uncovered } from '../regions/cover.ts';

const AROUND_MM = 0.8;
/** Letters reach a little out of their boxes. */
const LETTERS_MM = 0.3;
/** In levels of luma: a picture that was only coded anew stays below, another preparation of it does not. */
const SAME_LEVEL = 8;
const EXCEPTIONS = 0.005;
/** Fewer open pixels around a word say nothing about what lies under it. */
const LEAST_PIXELS = 40;

/**
 * Whether the ground around a word, away from all letters, is drawn alike on both pages, so that what differs in the word's
 * box is its letters and not the picture under them.
 *
 * @param words  all words of both pages
 */
export function isOnSameGround(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
  words: readonly Word[],
): boolean {
  const { ppi } = dummy;
  const ring = growBox(box, AROUND_MM);
  const left = Math.max(0, Math.floor(pxFromMm(ring.x, ppi)));
  const top = Math.max(0, Math.floor(pxFromMm(ring.y, ppi)));
  const right = Math.min(dummy.width, revision.width, Math.ceil(pxFromMm(ring.x + ring.width, ppi)));
  const bottom = Math.min(dummy.height, revision.height, Math.ceil(pxFromMm(ring.y + ring.height, ppi)));
  if (right <= left || bottom <= top) return false;
  const area = { left, top, width: right - left, height: bottom - top };
  const letters = words.map((word) => growBox(word.box, LETTERS_MM));
  const open = uncovered(area, ppi, letters);
  let [pixels, others] = [0, 0];
  for (let y = 0, cell = 0; y < area.height; y++) {
    for (let x = 0; x < area.width; x++, cell++) {
      if (open[cell] === 0) continue;
      const at = ((top + y) * dummy.width + left + x) * 3;
      const to = ((top + y) * revision.width + left + x) * 3;
      const luma =
        0.2126 * (dummy.rgb[at]! - revision.rgb[to]!) +
        0.7152 * (dummy.rgb[at + 1]! - revision.rgb[to + 1]!) +
        0.0722 * (dummy.rgb[at + 2]! - revision.rgb[to + 2]!);
      pixels++;
      if (Math.abs(luma) > SAME_LEVEL) others++;
    }
  }
  return pixels >= LEAST_PIXELS && others <= EXCEPTIONS * pixels;
}
