import type { Tolerances } from '../../model/index.ts';
import { deltaE00OfValues } from '../colour/ciede2000.ts';
import { applyToCells } from '../conversion/apply-to-cells.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import type { Patch } from '../regions/connected.ts';
import { findPatches, STRONG, WEAK } from '../regions/connected.ts';
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
const MOST_MISFIT_PER_SLOPE = 0.5;

/**
 * Finds what neither registration nor the colour map explains. Edges are judged mildly: resampling and sharpening change a
 * picture by a share of its local slope, and that share is measured on the picture itself.
 *
 * @param cellMm  side of a cell
 */
export function findLocalChange(laid: LaidOver, map: ColourMap, cellMm: number, tolerances: Tolerances): LocalChange {
  const { width, height, speaks } = laid;
  const misfit = measureMisfit(laid, map);
  const slope = localSlope(laid);
  const perSlope = misfitPerSlope(misfit, slope, speaks);
  const base = medianOf(misfit, speaks);
  const marks = new Uint8Array(width * height);
  let speaking = 0;
  let differing = 0;
  for (let cell = 0; cell < marks.length; cell++) {
    if (speaks[cell] === 0) continue;
    speaking++;
    const usual = base + perSlope * slope[cell]!;
    const limit = Math.max(tolerances.retouchDeltaE, BEYOND_MISFIT * usual);
    if (misfit[cell]! > limit) {
      marks[cell] = STRONG;
      differing++;
    } else if (misfit[cell]! > 0.55 * limit) {
      marks[cell] = WEAK;
    }
  }
  const cellMm2 = cellMm * cellMm;
  const least = Math.max(tolerances.retouchMm2, (tolerances.retouchPercent / 100) * speaking * cellMm2);
  const patches = findPatches(marks, width, height).filter(
    ({ cells, strong }) => cells * cellMm2 >= least && strong * cellMm2 >= 0.35 * least,
  );
  return { patches, differingShare: speaking === 0 ? 0 : differing / speaking, usualMisfit: base };
}

/** Under this plain distance no threshold is near, and the dearer formula need not be asked. */
const PLAINLY_NEAR = 2.5;

/** CIEDE2000 from the mapped colour (the plain distance where that is small); 0 where a cell does not speak. */
function measureMisfit(laid: LaidOver, map: ColourMap): Float32Array {
  const { dummy, revision, speaks } = laid;
  const mapped = new Float32Array(dummy.length);
  applyToCells(map, dummy, speaks, mapped);
  const { table, shades } = learnLeftovers(laid, mapped);
  const out = new Float32Array(speaks.length);
  for (let cell = 0, at = 0; cell < out.length; cell++, at += 3) {
    if (speaks[cell] === 0) continue;
    const shade = shades[cell]! * 3;
    const [l, a, b] = [revision[at]!, revision[at + 1]!, revision[at + 2]!];
    const [ml, ma, mb] = [
      mapped[at]! + table[shade]!,
      mapped[at + 1]! + table[shade + 1]!,
      mapped[at + 2]! + table[shade + 2]!,
    ];
    const plain = Math.sqrt((l - ml) * (l - ml) + (a - ma) * (a - ma) + (b - mb) * (b - mb));
    out[cell] = plain < PLAINLY_NEAR ? plain : deltaE00OfValues(ml, ma, mb, l, a, b);
  }
  return out;
}

/** Largest step of L* to a neighbour, on either side: the busier of the two decides how much misfit is usual. */
function localSlope(laid: LaidOver): Float32Array {
  const out = new Float32Array(laid.width * laid.height);
  for (let y = 1; y < laid.height - 1; y++) slopesOfRow(laid, y, out);
  return out;
}

function slopesOfRow({ width, dummy, revision, speaks }: LaidOver, y: number, out: Float32Array): void {
  const row = width * 3;
  for (let cell = y * width + 1; cell < (y + 1) * width - 1; cell++) {
    if (speaks[cell] === 0) continue;
    const own = largestStep(dummy, cell * 3, row);
    out[cell] = Math.max(own, Math.min(own + 4, largestStep(revision, cell * 3, row)));
  }
}

function largestStep(lab: Float32Array, at: number, row: number): number {
  const here = lab[at]!;
  return Math.max(
    Math.abs(lab[at + 3]! - here),
    Math.abs(lab[at - 3]! - here),
    Math.abs(lab[at + row]! - here),
    Math.abs(lab[at - row]! - here),
  );
}

/** Median misfit over median slope among the steepest quarter. */
function misfitPerSlope(misfit: Float32Array, slope: Float32Array, speaks: Uint8Array): number {
  const steep = quantile(slope, speaks, 0.75);
  if (steep <= 0.5) return MOST_MISFIT_PER_SLOPE / 2;
  const chosen = new Uint8Array(speaks.length);
  for (let i = 0; i < chosen.length; i++) chosen[i] = speaks[i] === 1 && slope[i]! >= steep ? 1 : 0;
  return Math.min(MOST_MISFIT_PER_SLOPE, medianOf(misfit, chosen) / Math.max(1, medianOf(slope, chosen)));
}

function medianOf(values: Float32Array, speaks: Uint8Array): number {
  return quantile(values, speaks, 0.5);
}

/** From a histogram of steps of 1/8 up to 64: exact enough for a threshold. */
function quantile(values: Float32Array, speaks: Uint8Array, share: number): number {
  const histogram = new Uint32Array(513);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    if (speaks[i] === 0) continue;
    histogram[Math.min(512, (values[i]! * 8) | 0)]!++;
    count++;
  }
  let run = 0;
  for (let bin = 0; bin < histogram.length; bin++) {
    run += histogram[bin]!;
    if (run >= share * count && count > 0) return (bin + 0.5) / 8;
  }
  return 0;
}
