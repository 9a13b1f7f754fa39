import type { Box, Mm, Word } from '../../model/index.ts';
import { mmFromPt, mmFromPx } from '../../model/index.ts';
import type { TellingRasters } from './telling-rasters.ts';
import { lookAlike } from './look-alike.ts';
import { boxAround } from './word-clusters.ts';

/** Of a line as a whole: where it only is alike, or where another line stands, it is under a half. */
const KNOWN_AGAIN = 0.8;
/** Its widest words tell a line from others as well as all of them do. */
const KNOWN_BY = 3;
/** A line is looked for this far to either side; up and down within its height. */
const SIDEWAYS_MM = 3;
/** In ems; of common faces about this. Common practice, no source. */
const CAPITALS = 0.7;

/** How far to the right and down of its place a line stands. */
export interface LineShift {
  readonly xMm: Mm;
  readonly yMm: Mm;
}

/**
 * Where a page that does not tell a line shows it: looked for straight up and down and to either side of where the telling
 * page has it, then around the best of these places.
 *
 * @param line  upright words in one line
 * @returns no shift where it is seen in its place, or nowhere near
 */
export function findLine(line: readonly Word[], { telling, showing }: TellingRasters): LineShift {
  const rasters = { dummy: telling, revision: showing };
  const known = line.toSorted((one, other) => other.box.width - one.box.width).slice(0, KNOWN_BY);
  const likeAt = (shift: LineShift): number =>
    known.reduce((sum, word) => sum + lookAlike(rasters, coreOf(word), shift), 0) / known.length;
  let best = { xMm: 0, yMm: 0, like: Math.max(KNOWN_AGAIN, likeAt({ xMm: 0, yMm: 0 })) };
  const consider = (xMm: Mm, yMm: Mm): void => {
    const like = likeAt({ xMm, yMm });
    if (like > best.like) best = { xMm, yMm, like };
  };
  const step = mmFromPx(0.5, telling.ppi);
  for (let mm = step; mm <= boxAround(line)!.height; mm += step) for (const way of [1, -1]) consider(0, way * mm);
  for (let mm = step; mm <= SIDEWAYS_MM; mm += step) for (const way of [1, -1]) consider(way * mm, 0);
  if (best.xMm === 0 && best.yMm === 0) return { xMm: 0, yMm: 0 };
  for (const finer of [step / 2, step / 4]) {
    const { xMm, yMm } = best;
    for (const x of [-finer, 0, finer]) for (const y of [-finer, 0, finer]) consider(xMm + x, yMm + y);
  }
  return { xMm: best.xMm, yMm: best.yMm };
}

/**
 * Whether a line stands elsewhere with every letter as it was: seen there, and with no other ink.
 *
 * @param differs  whether the ink of a place of the telling page is another so far beside it on the showing one
 * @returns null where it stands in its place, or anything else about it changed
 */
export function movedAsItIs(
  line: readonly Word[],
  rasters: TellingRasters,
  leastMm: Mm,
  differs: (place: Box, shift: LineShift) => boolean,
): LineShift | null {
  if (line.some(({ turnDeg }) => Math.round(turnDeg) !== 0)) return null;
  const shift = findLine(line, rasters);
  if (Math.hypot(shift.xMm, shift.yMm) < leastMm) return null;
  return line.some((word) => differs(coreOf(word), shift)) ? null : shift;
}

/** From the capitals' height to the baseline: what hangs below may stand among the letters of the next line. */
function coreOf({ box, origin, sizePt }: Word): Box {
  const capitals = CAPITALS * mmFromPt(sizePt);
  return { ...box, y: origin.y - capitals, height: capitals };
}
