import type { Box, PageRaster, Tolerances } from '../../model/index.ts';
import { mmFromPx } from '../../model/index.ts';
import { changedPatches } from '../artwork.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import { isPaper } from '../flattened-page.ts';
import type { PageSide } from '../page-sides.ts';
import type { Patch } from '../regions/connected.ts';
import { LEAST_SIDE_MM } from './visible-window.ts';

/** So much of its box a picture fills; type and drawings leave more of it open. */
const FILLED = 0.85;
/** Tones are taken over so many pixels both ways: dots of a screen even out. */
const BLOCK_PX = 8;
/** Standard deviation of these, in levels of one channel, under which it is a tint. */
const LEAST_SPREAD = 4;

/**
 * Windows of pictures that stand on a page that tells none, where the dummy's page is paper or type: upright places that are
 * filled, and not by a tint.
 *
 * @param explained  where pictures of the dummy are, on either page, mm
 */
export function picturesThatCameIn(
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  explained: readonly Box[],
  conversion: ColourMap,
  tolerances: Tolerances,
): readonly Box[] {
  const { dummy, revision } = sides;
  const type = dummy.facts.words.map(({ box }) => box);
  const cellMm = mmFromPx(1, dummy.raster.ppi);
  return changedPatches(sides, explained, conversion, tolerances).flatMap((patch): Box[] => {
    const [width, height] = [patch.right - patch.left, patch.bottom - patch.top];
    if (Math.min(width, height) * cellMm < LEAST_SIDE_MM || patch.cells < FILLED * width * height) return [];
    const box = { x: patch.left * cellMm, y: patch.top * cellMm, width: width * cellMm, height: height * cellMm };
    return isPaper(dummy.raster, box, type) && spreadOf(revision.raster, patch) >= LEAST_SPREAD ? [box] : [];
  });
}

/** How much the tones of a place vary, in levels of the channel that varies most. */
function spreadOf({ width, rgb }: PageRaster, { left, top, right, bottom }: Patch): number {
  let most = 0;
  for (let channel = 0; channel < 3; channel++) {
    let [n, sum, square] = [0, 0, 0];
    for (let y = top + 1; y + BLOCK_PX < bottom; y += BLOCK_PX) {
      for (let x = left + 1; x + BLOCK_PX < right; x += BLOCK_PX) {
        let tone = 0;
        for (let row = y; row < y + BLOCK_PX; row++) {
          for (let column = x; column < x + BLOCK_PX; column++) tone += rgb[(row * width + column) * 3 + channel]!;
        }
        tone /= BLOCK_PX ** 2;
        n += 1;
        sum += tone;
        square += tone * tone;
      }
    }
    if (n > 0) most = Math.max(most, Math.sqrt(Math.max(0, square / n - (sum / n) ** 2)));
  }
  return most;
}
