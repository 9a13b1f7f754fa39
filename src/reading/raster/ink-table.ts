/** Grid points along each ink. */
export const GRID = 17;
/** Grid points in all: as many as a square picture of `GRID` squared pixels a side has. */
export const GRID_POINTS = GRID ** 4;

const STEPS = [GRID ** 3, GRID ** 2, GRID, 1] as const;
const HALF = 128;

/**
 * Screen colours of a regular grid over the four inks; cyan changes slowest, black fastest. One number a point: red in
 * units of 2^32, green of 2^16, blue of 1, so that all three are interpolated at once, exactly.
 */
export type InkTable = Float64Array;

const RED = 2 ** 32;
const GREEN = 2 ** 16;

/** @param rgb  colours of the grid's points, 3 bytes each */
export function inkTable(rgb: Uint8Array): InkTable {
  const table = new Float64Array(GRID_POINTS);
  for (let point = 0, at = 0; point < GRID_POINTS; point++, at += 3) {
    table[point] = (rgb[at] ?? 0) * RED + (rgb[at + 1] ?? 0) * GREEN + (rgb[at + 2] ?? 0);
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

/** Bits of a packed entry that hold the step; the part stands above them. */
const STEP_BITS = 13;
const STEP_MASK = (1 << STEP_BITS) - 1;

/** By ink and level: the offset of the grid point below. */
const BELOW = byInkAndLevel((below, _part, step) => below * step);
/** By ink and level: how far the level lies towards the next point, of 256, packed above the step to that point. */
const TOWARDS = byInkAndLevel((_below, part, step) => (part << STEP_BITS) | step);

function byInkAndLevel(entry: (below: number, part: number, step: number) => number): Int32Array {
  return Int32Array.from({ length: 4 * 256 }, (_, at) => {
    const level = at % 256;
    const below = Math.min(
      GRID - 2,
      LEVELS.findLastIndex((lower) => lower <= level),
    );
    const [lower = 0, upper = 255] = LEVELS.slice(below, below + 2);
    return entry(below, Math.round(((level - lower) / (upper - lower)) * 256), STEPS[at >> 8] ?? 0);
  });
}

/**
 * Screen colours of inks, interpolated between the nearest five points of a table: the corner below, then a step along
 * each ink, the one that lies furthest towards its next point first.
 *
 * @param inks  4 bytes a pixel, 255 full ink
 * @returns 3 bytes a pixel
 * @source common practice (simplex interpolation, the four-dimensional form of the tetrahedral one), no source
 */
export function colourInks(inks: Uint8Array, table: InkTable): Uint8Array {
  const pixels = inks.length >> 2;
  const rgb = new Uint8Array(pixels * 3);
  for (let pixel = 0; pixel < pixels; pixel += RUN) {
    colourRun(inks, table, rgb, pixel, Math.min(pixels, pixel + RUN));
  }
  return rgb;
}

/** Pixels taken at once: what is called often is compiled soon. */
const RUN = 4096;
/** Half a level of each colour, with the 256 parts that weights add up to. */
const HALVES = HALF * (RED + GREEN + 1);

function colourRun(inks: Uint8Array, table: InkTable, rgb: Uint8Array, from: number, end: number): void {
  for (let at = from * 4, to = from * 3; at < end * 4; at += 4, to += 3) {
    const cyan = inks[at]!;
    const magenta = inks[at + 1]! + 256;
    const yellow = inks[at + 2]! + 512;
    const black = inks[at + 3]! + 768;
    // A sorting network without branches, which photographs would make the processor guess wrong.
    const a = Math.max(TOWARDS[cyan]!, TOWARDS[magenta]!);
    const b = Math.min(TOWARDS[cyan]!, TOWARDS[magenta]!);
    const c = Math.max(TOWARDS[yellow]!, TOWARDS[black]!);
    const d = Math.min(TOWARDS[yellow]!, TOWARDS[black]!);
    const e = Math.min(a, c);
    const f = Math.max(b, d);
    const first = Math.max(a, c);
    const second = Math.max(e, f);
    const third = Math.min(e, f);
    const fourth = Math.min(b, d);
    const v0 = BELOW[cyan]! + BELOW[magenta]! + BELOW[yellow]! + BELOW[black]!;
    const v1 = v0 + (first & STEP_MASK);
    const v2 = v1 + (second & STEP_MASK);
    const v3 = v2 + (third & STEP_MASK);
    const v4 = v3 + (fourth & STEP_MASK);
    const p1 = first >> STEP_BITS;
    const p2 = second >> STEP_BITS;
    const p3 = third >> STEP_BITS;
    const p4 = fourth >> STEP_BITS;
    const sum =
      table[v0]! * (256 - p1) +
      table[v1]! * (p1 - p2) +
      table[v2]! * (p2 - p3) +
      table[v3]! * (p3 - p4) +
      table[v4]! * p4 +
      HALVES;
    const upper = (sum / RED) | 0;
    const lower = (sum - upper * RED) | 0;
    rgb[to] = upper >> 8;
    rgb[to + 1] = lower >>> 24;
    rgb[to + 2] = (lower >>> 8) & 255;
  }
}
