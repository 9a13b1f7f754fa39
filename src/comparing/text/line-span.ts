import type { Box, Mm, PageRaster, Word } from '../../model/index.ts';
import { intersectBoxes, mmFromPt, mmFromPx, pxFromMm } from '../../model/index.ts';
import type { TellingRasters } from './telling-rasters.ts';
import { boxAround } from './word-clusters.ts';

/** Wider than the widest space that lines are driven out with. Common practice, no source. */
const GAP_EM = 0.9;
/** A line set wider, bold or in capitals, gains up to a half; what lies farther out is something else. */
const MOST_GAIN = 0.5;
/** In levels of one channel: what is darker or lighter by more was not there. */
const NEW_INK = 40;

/**
 * The place of a changed line with the letters by which it became longer, which lie where the telling page has nothing.
 *
 * @param line   words that the telling page tells, upright, in one line; turned ones keep their place
 * @param stops  places of other words and of pictures, which belong to something else
 */
export function spanOfLine(line: readonly Word[], rasters: TellingRasters, stops: readonly Box[]): Box {
  const told = boxAround(line)!;
  if (line.some(({ turnDeg }) => Math.round(turnDeg) !== 0)) return told;
  const gapMm = GAP_EM * mmFromPt(Math.max(...line.map(({ sizePt }) => sizePt)));
  const most = MOST_GAIN * told.width;
  const after = newInkAlong({ ...told, x: told.x + told.width, width: most }, 1, gapMm, rasters, stops);
  const before = newInkAlong({ ...told, x: told.x - most, width: most }, -1, gapMm, rasters, stops);
  return { ...told, x: told.x - before, width: before + told.width + after };
}

/** How far new ink goes on in a strip, from its left edge (1) or its right one (-1), with no gap wider than a space. */
function newInkAlong(
  strip: Box,
  way: 1 | -1,
  gapMm: Mm,
  { telling, showing }: TellingRasters,
  stops: readonly Box[],
): Mm {
  const { ppi } = telling;
  const top = Math.max(0, Math.round(pxFromMm(strip.y, ppi)));
  const bottom = Math.min(telling.height, showing.height, Math.round(pxFromMm(strip.y + strip.height, ppi)));
  const from = Math.round(pxFromMm(way === 1 ? strip.x : strip.x + strip.width, ppi));
  const across = Math.min(telling.width, showing.width);
  let reached = 0;
  for (let step = 1; mmFromPx(step, ppi) <= strip.width; step++) {
    const x = way === 1 ? from + step - 1 : from - step;
    const column = { x: mmFromPx(x, ppi), y: strip.y, width: mmFromPx(1, ppi), height: strip.height };
    if (x < 0 || x >= across || stops.some((stop) => intersectBoxes(stop, column) !== null)) break;
    if (hasNewInk(telling, showing, x, top, bottom)) reached = step;
    else if (mmFromPx(step - reached, ppi) > gapMm) break;
  }
  return mmFromPx(reached, ppi);
}

function hasNewInk(telling: PageRaster, showing: PageRaster, x: number, top: number, bottom: number): boolean {
  for (let y = top; y < bottom; y++) {
    const [at, to] = [(y * telling.width + x) * 3, (y * showing.width + x) * 3];
    for (let channel = 0; channel < 3; channel++) {
      if (Math.abs(telling.rgb[at + channel]! - showing.rgb[to + channel]!) > NEW_INK) return true;
    }
  }
  return false;
}
