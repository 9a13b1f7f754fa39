import type { Plane } from '../plane.ts';
import type { Similarity } from './similarity.ts';
import { affineOf } from './similarity.ts';

/** A guess of the coarse search and its correlation, -1 … 1. */
export interface Guess {
  readonly map: Similarity;
  readonly likeness: number;
}

const GRID = 14;

/**
 * Tries each start at every shift in reach and keeps the best shift of each.
 *
 * @param dummy     luma of the dummy's window, small (some 30 to 60 pixels)
 * @param revision  luma of where it may lie, at the same resolution
 * @param starts    scales, turns and mirrorings to try
 * @param reachPx   how far the shift is searched each way, in pixels of the planes
 * @returns best first; by the absolute correlation, so that an inverted picture is found too
 */
export function searchCoarsely(
  { dummy, revision }: { readonly dummy: Plane; readonly revision: Plane },
  starts: readonly Similarity[],
  reachPx: number,
): readonly Guess[] {
  const samples = gridOf(dummy);
  const guesses = starts.map((start) => bestShift(samples, revision, start, Math.ceil(reachPx)));
  return guesses.sort((one, other) => Math.abs(other.likeness) - Math.abs(one.likeness));
}

interface Grid {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly level: Float64Array;
}

function gridOf(dummy: Plane): Grid {
  const columns = Math.min(GRID, dummy.width);
  const rows = Math.min(GRID, dummy.height);
  const x = new Float64Array(columns * rows);
  const y = new Float64Array(columns * rows);
  const level = new Float64Array(columns * rows);
  let i = 0;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const u = Math.floor(((column + 0.5) * dummy.width) / columns);
      const v = Math.floor(((row + 0.5) * dummy.height) / rows);
      x[i] = dummy.left + u + 0.5;
      y[i] = dummy.top + v + 0.5;
      level[i++] = dummy.data[v * dummy.width + u]!;
    }
  }
  return { x, y, level };
}

function bestShift(grid: Grid, revision: Plane, start: Similarity, reach: number): Guess {
  const [a, b, c, d, e, f] = affineOf(start);
  const count = grid.x.length;
  const u = new Float64Array(count);
  const v = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    u[i] = a * grid.x[i]! + c * grid.y[i]! + e - revision.left;
    v[i] = b * grid.x[i]! + d * grid.y[i]! + f - revision.top;
  }
  let best: Guess = { map: start, likeness: 0 };
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) {
      const likeness = correlateShifted(grid.level, u, v, revision, dx, dy);
      if (Math.abs(likeness) > Math.abs(best.likeness)) {
        best = { map: { ...start, shiftX: start.shiftX + dx, shiftY: start.shiftY + dy }, likeness };
      }
    }
  }
  return best;
}

function correlateShifted(
  level: Float64Array,
  u: Float64Array,
  v: Float64Array,
  { width, height, data }: Plane,
  dx: number,
  dy: number,
): number {
  let [n, sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < level.length; i++) {
    const column = Math.floor(u[i]! + dx);
    const row = Math.floor(v[i]! + dy);
    if (column < 0 || row < 0 || column >= width || row >= height) continue;
    const x = level[i]!;
    const y = data[row * width + column]!;
    n++;
    sx += x;
    sy += y;
    sxx += x * x;
    syy += y * y;
    sxy += x * y;
  }
  if (n < 0.6 * level.length) return 0;
  const vx = n * sxx - sx * sx;
  const vy = n * syy - sy * sy;
  return (n * sxy - sx * sy) / Math.sqrt((vx + n * n) * (vy + n * n));
}
