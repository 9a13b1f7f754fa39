import type { InkGrid } from './ink-grid.ts';

/** Colours are told apart in so many steps a channel. */
const STEPS_BITS = 4;
/** So many cells must share a colour with others, or nothing can be said. */
const LEAST_CELLS = 200;

/** The step of a cell's colour, from 0. */
export function colourStep(colours: Uint8Array, cell: number): number {
  const drop = 8 - STEPS_BITS;
  const at = cell * 3;
  return (
    ((colours[at]! >> drop) << (2 * STEPS_BITS)) |
    ((colours[at + 1]! >> drop) << STEPS_BITS) |
    (colours[at + 2]! >> drop)
  );
}

/** Steps that a colour can have. */
export const COLOUR_STEPS = 2 ** (3 * STEPS_BITS);

/**
 * How much of what a plate's ink varies by is told by the colours of the pages it should print: however a job was
 * separated, the same colour gets the same ink. Near 1 where the plate is of these pages, whatever its ink; under a half
 * where it is of others.
 *
 * @param colours  three bytes a cell of the grid
 * @returns null where hardly two cells have a colour in common, or no ink varies
 * @source the correlation ratio (Pearson 1905, from memory), adjusted for the number of groups as Kelley 1935 has it
 */
export function toldByColours(grid: InkGrid, colours: Uint8Array): number | null {
  const cells = Math.min(grid.length, colours.length / 3);
  const [counts, sums] = [new Float64Array(COLOUR_STEPS), new Float64Array(COLOUR_STEPS)];
  let [sum, square, groups, between] = [0, 0, 0, 0];
  for (let at = 0; at < cells; at++) {
    const step = colourStep(colours, at);
    const ink = grid[at]!;
    counts[step]! += 1;
    sums[step]! += ink;
    sum += ink;
    square += ink * ink;
  }
  for (let step = 0; step < COLOUR_STEPS; step++) {
    if (counts[step] === 0) continue;
    groups += 1;
    between += sums[step]! ** 2 / counts[step]!;
  }
  const total = square - (sum * sum) / cells;
  if (cells - groups < LEAST_CELLS || total <= 0) return null;
  return 1 - (square - between) / (cells - groups) / (total / (cells - 1));
}
