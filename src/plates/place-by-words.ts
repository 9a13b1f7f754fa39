import type { Box, Mm, PagePoint, Word } from '../model/index.ts';
import type { CellTurn } from './plan.ts';

const REACH_MM = 8;
const FEWEST = 4;
/** Words that were moved with the page agree this well, and so many of them must. */
const AGREE_MM = 0.08;
const AGREE_SHARE = 0.85;
/** Of the dummy's words so many must be found at all. */
const FOUND_SHARE = 0.6;

/**
 * Measures where a page lies on a sheet from the places of its words, which files tell exactly, while drawn type sits on
 * whole pixels.
 *
 * @param around  where the page should lie
 * @returns null where too few words are there, or they do not move as one
 */
export function placeByWords(
  words: { readonly dummy: readonly Word[]; readonly sheet: readonly Word[] },
  around: Box,
  turnDeg: CellTurn,
): Box | null {
  const here = new Map<string, PagePoint[]>();
  for (const { text, origin } of words.sheet) {
    const own = onPage(origin, around, turnDeg);
    const inside =
      own.x > -REACH_MM &&
      own.y > -REACH_MM &&
      own.x < longest(around) + REACH_MM &&
      own.y < longest(around) + REACH_MM;
    if (!inside) continue;
    const known = here.get(text);
    if (known === undefined) here.set(text, [own]);
    else known.push(own);
  }
  const shifts = words.dummy.flatMap(({ text, origin }) => {
    const near = (here.get(text) ?? []).map((own) => ({ x: own.x - origin.x, y: own.y - origin.y }));
    const [nearest] = near.sort((one, other) => Math.hypot(one.x, one.y) - Math.hypot(other.x, other.y));
    return nearest !== undefined && Math.hypot(nearest.x, nearest.y) < REACH_MM ? [nearest] : [];
  });
  if (shifts.length < Math.max(FEWEST, FOUND_SHARE * words.dummy.length)) return null;
  const x = medianOf(shifts.map((shift) => shift.x));
  const y = medianOf(shifts.map((shift) => shift.y));
  const agreeing = shifts.filter((shift) => Math.hypot(shift.x - x, shift.y - y) <= AGREE_MM);
  if (agreeing.length < AGREE_SHARE * shifts.length) return null;
  const moved = turned({ x, y }, turnDeg);
  return { ...around, x: around.x + moved.x, y: around.y + moved.y };
}

function longest({ width, height }: Box): Mm {
  return Math.max(width, height);
}

/** A point of the sheet as the page that stands in the box has it. */
function onPage({ x, y }: PagePoint, box: Box, turnDeg: CellTurn): PagePoint {
  const [left, top] = [x - box.x, y - box.y];
  switch (turnDeg) {
    case 0:
      return { x: left, y: top };
    case 90:
      return { x: top, y: box.width - left };
    case 180:
      return { x: box.width - left, y: box.height - top };
    case 270:
      return { x: box.height - top, y: left };
  }
}

/** A shift on the page as the sheet sees it. */
function turned({ x, y }: PagePoint, turnDeg: CellTurn): PagePoint {
  switch (turnDeg) {
    case 0:
      return { x, y };
    case 90:
      return { x: -1 * y, y: x };
    case 180:
      return { x: -1 * x, y: -1 * y };
    case 270:
      return { x: y, y: -1 * x };
  }
}

/** The middle one; 0 of none. */
export function medianOf(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = [...values].sort((one, other) => one - other);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
