import type { Box, Mm, PageRaster, Word } from '../../model/index.ts';
import { intersectBoxes, mmFromPt, mmFromPx, uniteBoxes } from '../../model/index.ts';
import { growBox } from '../regions/cover.ts';
import { lookAlike } from './look-alike.ts';
import { linesOf } from './reading-order.ts';
import { boxAround } from './word-clusters.ts';

/** A page that tells some words, and the one that shows them without telling. */
export interface TellingRasters {
  readonly telling: PageRaster;
  readonly showing: PageRaster;
}

/** Of a line as a whole: where it only is alike, or where another line stands, it is under a half. */
const KNOWN_AGAIN = 0.8;
/** Letters reach a part of a pixel out of their boxes. */
const RIM_MM = 0.3;
/** In ems; of common faces about this. Common practice, no source. */
const CAPITALS = 0.7;
/** A strip of a word as low as this says nothing of its letters. */
const LEAST_SHARE = 0.3;

/**
 * Of words whose shapes differ, those that are others themselves. A line that moved up or down reaches into words of its
 * neighbours, and is missed there where it stood; such a word is judged again by the part of it that has neither.
 *
 * @param changed  words that one page tells
 * @param rasters  of both pages, at one resolution
 * @param leastMm  a line that moved less stands where it stood
 * @param differs  whether the ink of a place is another
 */
export function changedThemselves(
  changed: readonly Word[],
  rasters: TellingRasters,
  leastMm: Mm,
  differs: (place: Box) => boolean,
): readonly Word[] {
  const moved = linesOf(
    changed.filter(({ turnDeg }) => Math.round(turnDeg) === 0),
    0,
  ).flatMap((line) => {
    const downMm = movedDown(line, rasters);
    return Math.abs(downMm) < leastMm ? [] : [{ line, reached: placesOf(line, downMm) }];
  });
  if (moved.length === 0) return changed;
  const carried = new Set(moved.flatMap(({ line }) => line));
  const reached = moved.map((each) => each.reached);
  return changed.filter((word) => {
    if (carried.has(word) || reached.every((place) => intersectBoxes(place, word.box) === null)) return true;
    const left = unreached(word.box, reached);
    return left !== null && differs(left);
  });
}

/** Where a line stood and where it stands. */
function placesOf(line: readonly Word[], downMm: Mm): Box {
  const stood = boxAround(line)!;
  return growBox(uniteBoxes(stood, { ...stood, y: stood.y + downMm }), RIM_MM);
}

/** How far below its place a line is seen, negative above it; 0 where it stands there, or is not seen within its height. */
function movedDown(line: readonly Word[], { telling, showing }: TellingRasters): Mm {
  const rasters = { dummy: telling, revision: showing };
  const likeAt = (yMm: Mm): number =>
    line.reduce((sum, word) => sum + lookAlike(rasters, coreOf(word), { xMm: 0, yMm }), 0) / line.length;
  const step = mmFromPx(0.5, telling.ppi);
  const steps = Math.floor(boxAround(line)!.height / step);
  let best = { like: Math.max(KNOWN_AGAIN, likeAt(0)), downMm: 0 };
  for (let at = 1; at <= steps; at++) {
    for (const downMm of [at * step, -at * step]) {
      const like = likeAt(downMm);
      if (like > best.like) best = { like, downMm };
    }
  }
  return best.downMm;
}

/** From the capitals' height to the baseline: what hangs below may stand among the letters of the next line. */
function coreOf({ box, origin, sizePt }: Word): Box {
  const capitals = CAPITALS * mmFromPt(sizePt);
  return { ...box, y: origin.y - capitals, height: capitals };
}

/** The highest strip of a word's box that no place reaches; null where too little is left. */
function unreached(box: Box, reached: readonly Box[]): Box | null {
  let [top, bottom] = [box.y, box.y + box.height];
  for (const place of reached) {
    if (intersectBoxes(place, { ...box, y: top, height: bottom - top }) === null) continue;
    const [above, below] = [place.y - top, bottom - (place.y + place.height)];
    if (above > below) bottom = place.y;
    else top = place.y + place.height;
    if (bottom - top < LEAST_SHARE * box.height) return null;
  }
  return { ...box, y: top, height: bottom - top };
}
