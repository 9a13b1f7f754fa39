import type { Box } from '../../model/index.ts';
import { recognisePage } from '../../plates/index.ts';
import type { CellTurn, FoundSide, Grey, MarkedGrid, Recognised } from '../../plates/index.ts';
import type { SheetsRead } from './read-sheets.ts';

/** What was seen on a side, by place: plans are settled by it, and pages measured by it again. */
const seenOn = new WeakMap<Grey, Map<string, Recognised | null>>();

/**
 * Which page of the dummy stands at a place of a side.
 *
 * @param index  of the side in the file, from 0
 */
export function recognisedAt(read: SheetsRead, index: number, box: Box, plannedDeg: CellTurn): Recognised | null {
  const { grey } = read.sides[index]!;
  const seen = seenOn.get(grey) ?? new Map<string, Recognised | null>();
  seenOn.set(grey, seen);
  const place = [box.x, box.y, box.width, box.height, plannedDeg].join(' ');
  const known = seen.get(place);
  if (known !== undefined) return known;
  const pages = read.pages.flatMap((page) => (page === null ? [] : [page.known]));
  const recognised = recognisePage(grey, box, plannedDeg, pages);
  seen.set(place, recognised);
  return recognised;
}

/** Which pages stand on a side, where its pages lie by a grid. */
export function recognisedOn(read: SheetsRead, index: number, { columnsMm, rowsMm, onSide }: MarkedGrid): FoundSide {
  const { width, height } = read.trimmed;
  const size = onSide ? { width: height, height: width } : { width, height };
  return {
    rows: rowsMm.length,
    columns: columnsMm.length,
    onSide,
    cells: rowsMm.flatMap((y) => columnsMm.map((x) => recognisedAt(read, index, { x, y, ...size }, onSide ? 90 : 0))),
  };
}
