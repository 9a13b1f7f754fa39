import type { Box } from '../../model/index.ts';
import { correlationOf } from '../correlation.ts';
import type { Grey } from '../grey.ts';
import { inkGrid } from './ink-grid.ts';

/** Bleed, and pages that do not lie quite where they should, reach so far beyond their places. */
const BLEED_MM = 4;

/** With less ink, in levels, a cell has none. */
const SEEN = 12;

/** What a plate has beside its pages, by cells of about a square millimetre: marks, colour bars, names of inks. */
export interface PlateMarks {
  /** Of the whole plate. */
  readonly columns: number;
  readonly rows: number;
  /** Cells with ink, row by row, ascending. */
  readonly cells: Uint32Array;
  /** For each of them, 0 none to 255 full. */
  readonly ink: Uint8Array;
}

/**
 * A plate's marks.
 *
 * @param plate  ink as darkness
 * @param pages  where pages stand on it, mm
 */
export function plateMarks(plate: Grey, pages: readonly Box[]): PlateMarks {
  const [width, height] = [plate.width / plate.pxPerMm, plate.height / plate.pxPerMm];
  const [columns, rows] = [Math.max(1, Math.round(width)), Math.max(1, Math.round(height))];
  const grid = inkGrid(plate, { x: 0, y: 0, width, height }, 0, { columns, rows });
  for (const { x, y, width: wide, height: high } of pages) {
    const column = (mm: number): number => Math.max(0, Math.min(columns, Math.round((mm * columns) / width)));
    const row = (mm: number): number => Math.max(0, Math.min(rows, Math.round((mm * rows) / height)));
    const [left, right] = [column(x - BLEED_MM), column(x + wide + BLEED_MM)];
    for (let at = row(y - BLEED_MM); at < row(y + high + BLEED_MM); at++)
      grid.fill(0, at * columns + left, at * columns + right);
  }
  const inked: number[] = [];
  grid.forEach((ink, cell) => {
    if (ink >= SEEN) inked.push(cell);
  });
  const cells = Uint32Array.from(inked);
  return { columns, rows, cells, ink: Uint8Array.from(cells, (cell) => grid[cell]!) };
}

/** What one plate of a side has beside the pages less what another has, by the cells where they differ. */
export interface UnlikeMarks {
  readonly cells: readonly number[];
  readonly ink: readonly number[];
}

/** The difference of two plates' marks; null where they are of different sizes. */
export function unlikeMarks(one: PlateMarks, other: PlateMarks): UnlikeMarks | null {
  if (one.columns !== other.columns || one.rows !== other.rows) return null;
  const [cells, ink]: [number[], number[]] = [[], []];
  bothOf(one, other, (cell, a, b) => {
    if (Math.abs(a - b) < SEEN) return;
    cells.push(cell);
    ink.push(a - b);
  });
  return { cells, ink };
}

/** The cosine of the angle between two differences of marks: 1 alike, -1 the other way round. */
export function likenessOfMarks(one: UnlikeMarks, other: UnlikeMarks): number {
  let [aa, bb, ab] = [0, 0, 0];
  bothOf(one, other, (_, a, b) => {
    aa += a * a;
    bb += b * b;
    ab += a * b;
  });
  return correlationOf({ n: 1, a: 0, b: 0, aa, bb, ab });
}

interface InkedCells {
  readonly cells: ArrayLike<number>;
  readonly ink: ArrayLike<number>;
}

/** Every cell that either has ink in, ascending. */
function bothOf(
  one: InkedCells,
  other: InkedCells,
  tell: (cell: number, ofOne: number, ofOther: number) => void,
): void {
  let [i, j] = [0, 0];
  while (i < one.cells.length || j < other.cells.length) {
    const [a, b] = [one.cells[i] ?? Infinity, other.cells[j] ?? Infinity];
    tell(Math.min(a, b), a <= b ? one.ink[i]! : 0, b <= a ? other.ink[j]! : 0);
    if (a <= b) i++;
    if (b <= a) j++;
  }
}
