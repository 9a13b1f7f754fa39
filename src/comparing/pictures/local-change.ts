import type { Tolerances } from '../../model/index.ts';
import { deltaE00OfValues } from '../colour/ciede2000.ts';
import { applyToCells } from '../conversion/apply-to-cells.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import type { Cells } from '../kernels/cells.ts';
import { countSteps, markCells, measureMisfit, measureSlopes, putCells } from '../kernels/cells.ts';
import type { Patch } from '../regions/connected.ts';
import { findPatches } from '../regions/connected.ts';
import { sumOf } from '../sum-of.ts';
import type { LaidOver } from './lay-over.ts';
import { learnLeftovers } from './shade-leftovers.ts';

/** What of a registered picture shows something else. Cells of the laid-over field. */
export interface LocalChange {
  /** Patches that count, larger ones first. */
  readonly patches: readonly Patch[];
  /** Share of the speaking cells that differ, 0 … 1, whether in patches that count or not. */
  readonly differingShare: number;
  /** Median of what neither registration nor colours explain, CIEDE2000. */
  readonly usualMisfit: number;
}

/** How far beyond the usual misfit of its surroundings a patch must lie. */
const BEYOND_MISFIT = 3.2;
/** From this share of a limit on cells belong to a patch, though they make none. */
const RIM_OF_A_PATCH = 0.55;
const MOST_MISFIT_PER_SLOPE = 0.5;
/** How much busier than the dummy the revision may make a place. */
const MORE_SLOPE = 4;

/**
 * Finds what neither registration nor the colour map explains. Edges are judged mildly: resampling and sharpening change a
 * picture by a share of its local slope, and that share is measured on the picture itself.
 *
 * @param cellMm  side of a cell
 */
export function findLocalChange(laid: LaidOver, map: ColourMap, cellMm: number, tolerances: Tolerances): LocalChange {
  const cells = putCells(laid);
  fillMisfit(cells, map);
  // on either side: the busier of the two decides how much misfit is usual
  measureSlopes(cells, MORE_SLOPE);
  const perSlope = misfitPerSlope(cells);
  const { value: base, count: speaking } = quantile(cells, 'misfit', 0.5);
  const { marks, strong: differing } = markCells(cells, {
    base,
    perSlope,
    times: BEYOND_MISFIT,
    least: tolerances.retouchDeltaE,
    weak: RIM_OF_A_PATCH,
  });
  const cellMm2 = cellMm * cellMm;
  const least = Math.max(tolerances.retouchMm2, (tolerances.retouchPercent / 100) * speaking * cellMm2);
  const patches = findPatches(marks, laid.width, laid.height).filter(
    (patch) => patch.cells * cellMm2 >= least && patch.strong * cellMm2 >= 0.35 * least,
  );
  return { patches, differingShare: speaking === 0 ? 0 : differing / speaking, usualMisfit: base };
}

/** Under this plain distance no threshold is near, and the dearer formula need not be asked. */
const PLAINLY_NEAR = 2.5;

/** CIEDE2000 from the mapped colour (the plain distance where that is small); 0 where a cell does not speak. */
function fillMisfit(cells: Cells, map: ColourMap): void {
  applyToCells(map, cells);
  learnLeftovers(cells);
  measureMisfit(cells, PLAINLY_NEAR, measureExactly);
}

/** CIEDE2000 of a cell; nothing is made for it, since a page has a hundred thousand. */
function measureExactly({ revision, mapped, shades, table, misfit }: Cells, cell: number): void {
  const at = cell * 3;
  const shade = shades[cell]! * 3;
  misfit[cell] = deltaE00OfValues(
    mapped[at]! + table[shade]!,
    mapped[at + 1]! + table[shade + 1]!,
    mapped[at + 2]! + table[shade + 2]!,
    revision[at]!,
    revision[at + 1]!,
    revision[at + 2]!,
  );
}

/** Median misfit over median slope among the steepest quarter. */
function misfitPerSlope(cells: Cells): number {
  const { value: steep } = quantile(cells, 'slope', 0.75);
  if (steep <= 0.5) return MOST_MISFIT_PER_SLOPE / 2;
  const { value: misfit } = quantile(cells, 'misfit', 0.5, steep);
  return Math.min(MOST_MISFIT_PER_SLOPE, misfit / Math.max(1, quantile(cells, 'slope', 0.5, steep).value));
}

/**
 * From a histogram of steps of 1/8 up to 64: exact enough for a threshold.
 *
 * @param steep  leaves cells of a lesser slope out
 * @returns with how many cells there are
 */
function quantile(
  cells: Cells,
  of: 'misfit' | 'slope',
  share: number,
  steep = -Infinity,
): { readonly value: number; readonly count: number } {
  const histogram = countSteps(cells, of, steep);
  const count = sumOf(histogram);
  let run = 0;
  for (let bin = 0; bin < histogram.length; bin++) {
    run += histogram[bin]!;
    if (run >= share * count && count > 0) return { value: (bin + 0.5) / 8, count };
  }
  return { value: 0, count };
}
