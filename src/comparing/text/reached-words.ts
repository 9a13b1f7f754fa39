import type { Box, Mm, Word } from '../../model/index.ts';
import { intersectBoxes, uniteBoxes } from '../../model/index.ts';
import { growBox } from '../regions/cover.ts';
import type { LineShift } from './moved-line.ts';
import { findLine } from './moved-line.ts';
import { linesOf } from './reading-order.ts';
import type { TellingRasters } from './telling-rasters.ts';
import { boxAround } from './word-clusters.ts';

/** Letters reach a part of a pixel out of their boxes. */
const RIM_MM = 0.3;
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
    const shift = findLine(line, rasters);
    return Math.abs(shift.yMm) < leastMm ? [] : [{ line, reached: placesOf(line, shift) }];
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
function placesOf(line: readonly Word[], { xMm, yMm }: LineShift): Box {
  const stood = boxAround(line)!;
  return growBox(uniteBoxes(stood, { ...stood, x: stood.x + xMm, y: stood.y + yMm }), RIM_MM);
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
