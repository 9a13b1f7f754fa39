import type { Box, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';

/** Around the place of a word: what lies nearer may be its own letters, what lies further is another matter. */
const NEAREST_MM = 0.3;
const FURTHEST_MM = 1.3;
/** Ground, not letters or lines: levels over which a pixel differs from its neighbours. */
const FLAT_LEVELS = 10;
/** In levels of the three channels together: tints that changed, against what a conversion does to all of them alike. */
const APART_LEVELS = 36;
/** Of the ground around, the share that may have changed in a way of its own: the soft rim of a border. */
const MOST_APART = 0.1;

/**
 * Whether the ground around a word changed all alike, if at all. Where a part of it did not (a lake of another colour
 * under half of its name), the letters' colour cannot be told from the ground's.
 */
export function groundStayed(
  box: Box,
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
): boolean {
  const changes = [[], [], []] as [number[], number[], number[]];
  const { ppi } = dummy;
  const [width, height] = [Math.min(dummy.width, revision.width), Math.min(dummy.height, revision.height)];
  const edge = (mm: number, most: number): number => Math.max(1, Math.min(most - 1, Math.round(pxFromMm(mm, ppi))));
  const [left, right] = [edge(box.x - FURTHEST_MM, width), edge(box.x + box.width + FURTHEST_MM, width)];
  const [top, bottom] = [edge(box.y - FURTHEST_MM, height), edge(box.y + box.height + FURTHEST_MM, height)];
  const [from, to] = [edge(box.x - NEAREST_MM, width), edge(box.x + box.width + NEAREST_MM, width)];
  const [above, below] = [edge(box.y - NEAREST_MM, height), edge(box.y + box.height + NEAREST_MM, height)];
  for (let y = top; y < bottom; y++) {
    for (let x = left; x < right; x++) {
      if (x >= from && x < to && y >= above && y < below) continue;
      if (!isFlat(dummy, x, y) || !isFlat(revision, x, y)) continue;
      const [at, there] = [(y * dummy.width + x) * 3, (y * revision.width + x) * 3];
      changes.forEach((list, channel) => list.push(revision.rgb[there + channel]! - dummy.rgb[at + channel]!));
    }
  }
  const usual = changes.map(medianOf);
  const apart = changes[0].filter(
    (_, at) => changes.reduce((sum, list, channel) => sum + Math.abs(list[at]! - usual[channel]!), 0) > APART_LEVELS,
  );
  return apart.length <= MOST_APART * changes[0].length;
}

function isFlat({ width, rgb }: PageRaster, x: number, y: number): boolean {
  const at = (y * width + x) * 3;
  for (const next of [at - 3, at + 3, at - width * 3, at + width * 3]) {
    for (let channel = 0; channel < 3; channel++) {
      if (Math.abs((rgb[next + channel] ?? 255) - rgb[at + channel]!) > FLAT_LEVELS) return false;
    }
  }
  return true;
}

function medianOf(values: readonly number[]): number {
  return [...values].sort((one, other) => one - other)[values.length >> 1] ?? 0;
}
