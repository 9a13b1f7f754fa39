import { bytesToFill, coloursByTable } from './kernels/pixels.ts';

/** Grid points along each ink. */
export const GRID = 17;
/** Grid points in all: as many as a square picture of `GRID` squared pixels a side has. */
export const GRID_POINTS = GRID ** 4;

const STEPS = [GRID ** 3, GRID ** 2, GRID, 1] as const;

/** Screen colours of a regular grid over the four inks; cyan changes slowest, black fastest. Four bytes a point, RGB and 0. */
export type InkTable = Uint8Array;

/** @param rgb  colours of the grid's points, 3 bytes each */
export function inkTable(rgb: Uint8Array): InkTable {
  const table = new Uint8Array(GRID_POINTS * 4);
  for (let point = 0; point < GRID_POINTS; point++) {
    for (let channel = 0; channel < 3; channel++) table[point * 4 + channel] = rgb[point * 3 + channel] ?? 0;
  }
  return table;
}

/** The level of an ink at each point along it; whole levels, so not quite evenly spaced. */
const LEVELS = Array.from({ length: GRID }, (_, point) => Math.round((point * 255) / (GRID - 1)));

/** The inks of every grid point, 4 bytes each, 255 full ink, in the order of a table. */
export function gridInks(): Uint8Array {
  const inks = new Uint8Array(GRID_POINTS * 4);
  STEPS.forEach((step, ink) => {
    for (let point = 0; point < GRID_POINTS; point++) {
      inks[point * 4 + ink] = LEVELS[Math.floor(point / step) % GRID]!;
    }
  });
  return inks;
}

/** Samples that become screen colours a few at a time, in order. */
export interface Colouring {
  /** Inks of the next pixels: 4 bytes each, 255 full ink. What it is given may be overwritten afterwards. */
  put(this: void, inks: Uint8Array): void;
  /** What was made of all of them: 3 bytes a pixel, or 4, the last 255. */
  readonly colours: Uint8Array;
}

/**
 * Screen colours of inks, interpolated between the nearest five points of a table: the corner below, then a step along
 * each ink, the one that lies furthest towards its next point first.
 *
 * @param pixels  of all that will be put
 * @param bytes  of a pixel that comes out
 * @source common practice (simplex interpolation, the four-dimensional form of the tetrahedral one), no source
 */
export function colouring(table: InkTable, pixels: number, bytes: 3 | 4): Colouring {
  const colours = bytesToFill(pixels * bytes);
  let done = 0;
  return {
    put(inks) {
      coloursByTable(inks, table, colours.subarray(done * bytes), bytes);
      done += inks.length >> 2;
    },
    colours,
  };
}

/** Screen colours of inks all at once, 3 bytes a pixel. */
export function colourInks(inks: Uint8Array, table: InkTable): Uint8Array {
  const { put, colours } = colouring(table, inks.length >> 2, 3);
  put(inks);
  return colours;
}
