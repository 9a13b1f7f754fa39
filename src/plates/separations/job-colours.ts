import type { ProcessInk } from '../../model/index.ts';
import { isProcessInk } from '../../model/index.ts';
import type { InkGrid } from './ink-grid.ts';
import { COLOUR_STEPS, colourStep } from './told-by-colours.ts';

/** A colour is known of a side from so many cells of it. */
const LEAST_CELLS = 4;
/** Greys may be printed with black alone on one side and with all inks on another; from here on a colour is none. */
const COLOURED = 24;
/** So many cells must be told, and colours get so much ink on average, or all of a side that is no side of black alone. */
const ASKED = { cells: 200, levelsOfColours: 10, levelsOfAll: 1.5 };

/** A side as far as what its colours get of each ink is told by it. */
interface PrintedSide {
  readonly colours: Uint8Array;
  readonly plates: readonly { readonly ink: string; readonly grid: InkGrid }[];
}

/** What each colour gets of an ink on a side, by its step; NaN where too few cells have it. Null where the ink is not there. */
export function inkOfColours({ colours, plates }: PrintedSide, ink: ProcessInk): Float32Array | null {
  const grid = plates.find((plate) => plate.ink === ink)?.grid;
  if (grid === undefined) return null;
  const [counts, sums] = [new Float32Array(COLOUR_STEPS), new Float64Array(COLOUR_STEPS)];
  for (let at = 0; at < grid.length; at++) {
    const step = colourStep(colours, at);
    counts[step]! += 1;
    sums[step]! += grid[at]!;
  }
  return counts.map((count, step) => (count < LEAST_CELLS ? NaN : sums[step]! / count));
}

/** What each colour gets on most of the other sides, by its step; NaN where none tells. */
export function elsewhere(tables: readonly (Float32Array | null)[], but: number): Float32Array {
  return Float32Array.from({ length: COLOUR_STEPS }, (_, step) => {
    const told = tables.flatMap((table, side) =>
      side === but || table === null || Number.isNaN(table[step]) ? [] : [table[step]!],
    );
    told.sort((one, other) => one - other);
    return told.length === 0 ? NaN : (told[(told.length - 1) >> 1]! + told[told.length >> 1]!) / 2;
  });
}

/** A cell with so much of an ink, in levels, is printed with it. */
const SEEN = 12;

/**
 * Whether a side has colours that get the ink, one of three, on the other sides of the job. Greys may be printed with black
 * alone: they only count where another of the three is there.
 *
 * @param but  the side, of `sides`
 */
export function asksAsElsewhere(sides: readonly PrintedSide[], but: number, ink: ProcessInk): boolean {
  const { colours, plates } = sides[but]!;
  const told = elsewhere(
    sides.map((side) => inkOfColours(side, ink)),
    but,
  );
  const [coloured, all] = [
    { cells: 0, sum: 0 },
    { cells: 0, sum: 0 },
  ];
  for (let cell = 0; cell < colours.length / 3; cell++) {
    const tone = told[colourStep(colours, cell)]!;
    if (Number.isNaN(tone)) continue;
    all.cells += 1;
    all.sum += tone;
    const [red, green, blue] = [colours[cell * 3]!, colours[cell * 3 + 1]!, colours[cell * 3 + 2]!];
    if (Math.max(red, green, blue) - Math.min(red, green, blue) < COLOURED) continue;
    coloured.cells += 1;
    coloured.sum += tone;
  }
  const isBlackAlone = !plates.some(
    (plate) =>
      plate.ink !== ink && plate.ink !== 'black' && isProcessInk(plate.ink) && plate.grid.some((tone) => tone > SEEN),
  );
  return (
    (coloured.cells >= ASKED.cells && coloured.sum >= ASKED.levelsOfColours * coloured.cells) ||
    (!isBlackAlone && all.cells >= ASKED.cells && all.sum >= ASKED.levelsOfAll * all.cells)
  );
}
