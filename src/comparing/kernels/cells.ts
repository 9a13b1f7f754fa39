import type { Kernel } from '../../model/index.ts';
import { kernelOf, layOut } from '../../model/index.ts';
import { CELLS } from './cells-code.ts';

interface Exports {
  readonly memory: WebAssembly.Memory;
  readonly binCells: Kernel<number>;
  readonly moveCells: Kernel<void>;
  readonly sumLeftovers: Kernel<void>;
  readonly measureMisfit: Kernel<number>;
  readonly measureSlopes: Kernel<void>;
  readonly countSteps: Kernel<void>;
  readonly markCells: Kernel<number>;
}

const kernels = kernelOf<Exports>(CELLS);

/** Cells that a kernel goes through in one call. */
const PIECE = 8192;
/** Bins of colours: 128 of L*, 64 each of a* and b*. */
const BINS = 128 * 64 * 64;
/** Shades of colours: 11 of L*, 16 each of a* and b*. */
const SHADES = 11 * 16 * 16;
/** Steps of 1/8 up to 64, and one for what lies beyond. */
const STEPS = 513;

/** Colours of a picture and of its other self laid over it: as many cells on each side. */
export interface BothSides {
  readonly width: number;
  /** L*, a*, b* a cell. */
  readonly dummy: Float32Array;
  readonly revision: Float32Array;
  /** 0 where a cell is left out. */
  readonly speaks: Uint8Array;
}

/** Cells in the kernel's memory, until others are put there. Numbers of cells that do not speak have no meaning. */
export interface Cells {
  readonly width: number;
  readonly count: number;
  readonly revision: Float32Array;
  /** The dummy's colours as a map has them; see `moveCells`. */
  readonly mapped: Float32Array;
  /** The shade of each cell; see `sumLeftovers`. */
  readonly shades: Uint16Array;
  /** What the map leaves over for each shade: three numbers. */
  readonly table: Float32Array;
  /** See `measureMisfit`; 0 where a cell does not speak. */
  readonly misfit: Float32Array;
  /** See `measureSlopes`; 0 at the rim. */
  readonly slope: Float32Array;
}

/** The rest of what lies in memory, and where. */
interface Desk extends Cells {
  readonly knownBins: Uint8Array;
  readonly moved: Float32Array;
  readonly found: Int32Array;
  readonly sums: Float64Array;
  readonly histogram: Uint32Array;
  readonly dummy: Float32Array;
  readonly speaks: Uint8Array;
  readonly bins: Int32Array;
  readonly marks: Uint8Array;
}

let onDesk: Desk | null = null;

function desk(cells: Cells): Desk {
  if (onDesk !== cells) throw new Error('these cells have left the kernel’s memory');
  return onDesk;
}

/** Puts a picture into the kernel's memory. */
export function putCells({ width, dummy, revision, speaks }: BothSides): Cells {
  const count = speaks.length;
  const { memory, at } = layOut(
    kernels().memory,
    ...[BINS, BINS * 12, PIECE * 4, SHADES * 32, SHADES * 12, STEPS * 4],
    ...[count * 12, count * 12, count, count * 12, count * 2, count * 4, count * 4, count],
  );
  const { buffer } = memory;
  const numbers = (place: number, length: number): Float32Array => new Float32Array(buffer, at[place], length);
  onDesk = {
    width,
    count,
    knownBins: new Uint8Array(buffer, at[0], BINS),
    moved: numbers(1, BINS * 3),
    found: new Int32Array(buffer, at[2], PIECE),
    sums: new Float64Array(buffer, at[3], SHADES * 4),
    table: numbers(4, SHADES * 3),
    histogram: new Uint32Array(buffer, at[5], STEPS),
    dummy: numbers(6, count * 3),
    revision: numbers(7, count * 3),
    speaks: new Uint8Array(buffer, at[8], count),
    mapped: numbers(9, count * 3),
    shades: new Uint16Array(buffer, at[10], count),
    // Bins are done with when misfits are measured.
    bins: new Int32Array(buffer, at[11], count),
    misfit: numbers(11, count),
    slope: numbers(12, count),
    marks: new Uint8Array(buffer, at[13], count),
  };
  onDesk.dummy.set(dummy);
  onDesk.revision.set(revision);
  onDesk.speaks.set(speaks);
  return onDesk;
}

function inPieces(count: number, piece: (first: number, end: number) => void): void {
  for (let first = 0; first < count; first += PIECE) piece(first, Math.min(count, first + PIECE));
}

/** Bins of L* are 100/128 wide, those of a* and b* 3, from -96 on; what lies beyond either end counts to it. */
const STEP_L = 100 / 128;
const STEP_AB = 3;
const FIRST_AB = -96;

/** The middles of bins: L*, a*, b* of each, exact in 32 bits. */
function middlesOf(bins: Int32Array): Float32Array {
  const middles = new Float32Array(bins.length * 3);
  for (let i = 0, at = 0; i < bins.length; i++, at += 3) {
    const bin = bins[i]!;
    middles[at] = ((bin >> 12) + 0.5) * STEP_L;
    middles[at + 1] = FIRST_AB + (((bin >> 6) & 63) + 0.5) * STEP_AB;
    middles[at + 2] = FIRST_AB + ((bin & 63) + 0.5) * STEP_AB;
  }
  return middles;
}

/**
 * Moves the dummy's colours, all of a bin as its middle is moved.
 *
 * @param map  what becomes of the middles of bins; each that occurs is asked for once
 */
export function moveCells(cells: Cells, map: (middles: Float32Array) => Float32Array): void {
  const { binCells, moveCells: move } = kernels();
  const { count, dummy, speaks, knownBins, bins, found, moved, mapped } = desk(cells);
  knownBins.fill(0);
  inPieces(count, (first, end) => {
    const learning = binCells(
      ...[dummy.byteOffset, speaks.byteOffset, first, end],
      ...[knownBins.byteOffset, bins.byteOffset, found.byteOffset],
    );
    const middles = middlesOf(found.subarray(0, learning));
    const became = map(middles);
    for (let i = 0, from = 0; i < learning; i++, from += 3) {
      const to = found[i]! * 3;
      for (let k = 0; k < 3; k++) moved[to + k] = became[from + k]! - middles[from + k]!;
    }
    move(
      ...[dummy.byteOffset, speaks.byteOffset, first, end],
      ...[bins.byteOffset, moved.byteOffset, mapped.byteOffset],
    );
  });
}

/**
 * What the moved colours leave over, added up for each shade: steps of 10 from L* 0 and from a* and b* -75.
 *
 * @param most  how long the leftover of one cell may be, Lab distance; a longer one counts as this long
 * @returns four numbers a shade: sums of L*, a*, b*, and how many cells; overwritten by the next call
 */
export function sumLeftovers(cells: Cells, most: number): Float64Array {
  const { sumLeftovers: sum } = kernels();
  const { count, dummy, revision, mapped, speaks, shades, sums } = desk(cells);
  sums.fill(0);
  inPieces(count, (first, end) => {
    sum(
      ...[dummy.byteOffset, revision.byteOffset, mapped.byteOffset, speaks.byteOffset, first, end],
      ...[most, shades.byteOffset, sums.byteOffset],
    );
  });
  return sums;
}

/**
 * Lab distance of the revision from the moved colours with their shade's leftover.
 *
 * @param far  called with a cell that is `near` or more away
 */
export function measureMisfit(cells: Cells, near: number, far: (cells: Cells, cell: number) => void): void {
  const { measureMisfit: measure } = kernels();
  const { count, revision, mapped, speaks, shades, table, misfit, found } = desk(cells);
  inPieces(count, (first, end) => {
    const away = measure(
      ...[revision.byteOffset, mapped.byteOffset, speaks.byteOffset, first, end],
      ...[shades.byteOffset, table.byteOffset, near, misfit.byteOffset, found.byteOffset],
    );
    for (let i = 0; i < away; i++) far(cells, found[i]!);
  });
}

/**
 * Largest step of L* to one of four neighbours: the busier side's, at most `more` above the dummy's.
 */
export function measureSlopes(cells: Cells, more: number): void {
  const { measureSlopes: measure } = kernels();
  const { width, count, dummy, revision, speaks, slope } = desk(cells);
  slope.fill(0);
  for (let row = width; row + width < count; row += width) {
    measure(
      ...[dummy.byteOffset, revision.byteOffset, speaks.byteOffset, width, row + 1, row + width - 1],
      ...[more, slope.byteOffset],
    );
  }
}

/**
 * How many cells that speak have which misfit or slope, in steps of 1/8; what is 64 or more counts to the last.
 *
 * @param steep  leaves cells of a lesser slope out
 * @returns overwritten by the next call
 */
export function countSteps(cells: Cells, of: 'misfit' | 'slope', steep: number): Uint32Array {
  const { countSteps: countOf } = kernels();
  const { count, speaks, slope, histogram, [of]: values } = desk(cells);
  histogram.fill(0);
  inPieces(count, (first, end) => {
    countOf(values.byteOffset, speaks.byteOffset, slope.byteOffset, steep, first, end, histogram.byteOffset);
  });
  return histogram;
}

/** From which misfit on a cell is marked. */
export interface MisfitLimit {
  /** The misfit that is usual where there is no slope, and how much more for each unit of it. */
  readonly base: number;
  readonly perSlope: number;
  /** So many times what is usual is the limit, */
  readonly times: number;
  /** but at least this. */
  readonly least: number;
  /** So much of the limit is marked weakly. */
  readonly weak: number;
}

/**
 * Marks cells beyond a limit with 2, and those beyond a share of it with 1.
 *
 * @returns the marks, overwritten by the next call, and how many cells are marked with 2
 */
export function markCells(cells: Cells, limit: MisfitLimit): { readonly marks: Uint8Array; readonly strong: number } {
  const { markCells: mark } = kernels();
  const { count, misfit, slope, speaks, marks } = desk(cells);
  const { base, perSlope, times, least, weak } = limit;
  let strong = 0;
  inPieces(count, (first, end) => {
    strong += mark(
      ...[misfit.byteOffset, slope.byteOffset, speaks.byteOffset, first, end],
      ...[base, perSlope, times, least, weak, marks.byteOffset],
    );
  });
  return { marks, strong };
}
