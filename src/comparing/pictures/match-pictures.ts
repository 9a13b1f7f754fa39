import type { Box, PageRaster } from '../../model/index.ts';
import { areaMm2, intersectBoxes, pxFromMm } from '../../model/index.ts';
import { assign } from '../sequence/assignment.ts';
import type { VisiblePicture } from './visible-window.ts';

/** Which picture of the dummy page became which of the revision page. */
export interface PictureMatch {
  readonly pairs: readonly { readonly dummy: VisiblePicture; readonly revision: VisiblePicture }[];
  readonly missing: readonly VisiblePicture[];
  readonly added: readonly VisiblePicture[];
}

const SIDE = 14;
const NO_MATCH = 1;

/**
 * Pairs the pictures of two pages at least cost: the same data, the same place and the same look speak for a pair. A pair
 * must share place or look; what is left over is missing or added.
 */
export function matchPictures(
  dummy: { readonly pictures: readonly VisiblePicture[]; readonly raster: PageRaster },
  revision: { readonly pictures: readonly VisiblePicture[]; readonly raster: PageRaster },
): PictureMatch {
  const [rows, columns] = [dummy.pictures.length, revision.pictures.length];
  if (rows === 0 || columns === 0) return { pairs: [], missing: dummy.pictures, added: revision.pictures };
  const ones = dummy.pictures.map(({ window }) => thumbnail(window, dummy.raster));
  const others = revision.pictures.map(({ window }) => thumbnail(window, revision.raster));
  const costs = dummy.pictures.map((one, i) =>
    revision.pictures.map((other, j) => pairCost(one, other, correlation(ones[i]!, others[j]!))),
  );
  // an extra column for each row stands for "nowhere": dearer pairs than that are not made
  const padded = costs.map((row, i) => [...row, ...dummy.pictures.map((_, k) => (k === i ? NO_MATCH : 3))]);
  const columnOf = assign(padded);
  const pairs: { dummy: VisiblePicture; revision: VisiblePicture }[] = [];
  const missing: VisiblePicture[] = [];
  const taken = new Set<number>();
  dummy.pictures.forEach((one, i) => {
    const j = columnOf[i];
    if (j === undefined || j === null || j < 0 || j >= columns || costs[i]![j]! >= NO_MATCH) {
      missing.push(one);
      return;
    }
    taken.add(j);
    pairs.push({ dummy: one, revision: revision.pictures[j]! });
  });
  return { pairs, missing, added: revision.pictures.filter((_, j) => !taken.has(j)) };
}

/** 0 the same in every respect; 1 and more: not a pair. */
function pairCost(one: VisiblePicture, other: VisiblePicture, look: number): number {
  const place = overlap(one.window, other.window);
  if (one.picture.samplesHash === other.picture.samplesHash) return 0.1 * (1 - place);
  const likeness = Math.max(0, look);
  if (place < 0.2 && likeness < 0.85) return 2;
  return 0.2 + 0.5 * (1 - place) + 0.45 * (1 - likeness) - (place >= 0.2 ? 0.25 : 0);
}

/** Shared area over the area of both together. */
function overlap(one: Box, other: Box): number {
  const shared = intersectBoxes(one, other);
  if (shared === null) return 0;
  const both = areaMm2(shared);
  return both / (areaMm2(one) + areaMm2(other) - both);
}

/** Luma of a window, averaged into 14 x 14 cells. */
function thumbnail(window: Box, raster: PageRaster): Float64Array {
  const out = new Float64Array(SIDE * SIDE);
  const left = pxFromMm(window.x, raster.ppi);
  const top = pxFromMm(window.y, raster.ppi);
  const width = pxFromMm(window.width, raster.ppi) / SIDE;
  const height = pxFromMm(window.height, raster.ppi) / SIDE;
  for (let row = 0; row < SIDE; row++) {
    const y0 = Math.max(0, Math.floor(top + row * height));
    const y1 = Math.min(raster.height, Math.max(y0 + 1, Math.floor(top + (row + 1) * height)));
    for (let column = 0; column < SIDE; column++) {
      const x0 = Math.max(0, Math.floor(left + column * width));
      const x1 = Math.min(raster.width, Math.max(x0 + 1, Math.floor(left + (column + 1) * width)));
      let sum = 0;
      let count = 0;
      // a few probes a cell are enough to tell pictures apart
      const stepY = Math.max(1, (y1 - y0) >> 2);
      const stepX = Math.max(1, (x1 - x0) >> 2);
      for (let y = y0; y < y1; y += stepY) {
        for (let x = x0; x < x1; x += stepX) {
          const at = (y * raster.width + x) * 3;
          sum += 0.3 * raster.rgb[at]! + 0.6 * raster.rgb[at + 1]! + 0.1 * raster.rgb[at + 2]!;
          count++;
        }
      }
      out[row * SIDE + column] = count === 0 ? 255 : sum / count;
    }
  }
  return out;
}

function correlation(one: Float64Array, other: Float64Array): number {
  let [sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0];
  const n = one.length;
  for (let i = 0; i < n; i++) {
    sx += one[i]!;
    sy += other[i]!;
    sxx += one[i]! * one[i]!;
    syy += other[i]! * other[i]!;
    sxy += one[i]! * other[i]!;
  }
  const noise = 9 * n * n;
  return (n * sxy - sx * sy) / Math.sqrt((n * sxx - sx * sx + noise) * (n * syy - sy * sy + noise));
}
