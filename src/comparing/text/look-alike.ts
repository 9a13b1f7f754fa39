import type { Box, Mm, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';

/**
 * How alike two places look: the correlation of their luma, -1 … 1; where both are even it is 1 if they have the same tone
 * and 0 if not. A change of tone or contrast alone does not count.
 *
 * @param box    on the dummy page
 * @param shift  where the same thing lies on the revision page, against the dummy
 */
export function lookAlike(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
  shift: { readonly xMm: Mm; readonly yMm: Mm },
): number {
  const { ppi } = dummy;
  const left = Math.max(0, Math.floor(pxFromMm(box.x, ppi)));
  const top = Math.max(0, Math.floor(pxFromMm(box.y, ppi)));
  const right = Math.min(dummy.width, Math.ceil(pxFromMm(box.x + box.width, ppi)));
  const bottom = Math.min(dummy.height, Math.ceil(pxFromMm(box.y + box.height, ppi)));
  const dx = pxFromMm(shift.xMm, ppi);
  const dy = pxFromMm(shift.yMm, ppi);
  let [n, sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0, 0];
  for (let y = top; y < bottom; y++) {
    for (let x = left; x < right; x++) {
      const one = luma(dummy, x, y);
      const other = lumaBetween(revision, x + dx, y + dy);
      n++;
      sx += one;
      sy += other;
      sxx += one * one;
      syy += other * other;
      sxy += one * other;
    }
  }
  if (n === 0) return 1;
  const vx = n * sxx - sx * sx;
  const vy = n * syy - sy * sy;
  const even = EVEN * EVEN * n * n;
  if (vx < even && vy < even) return Math.abs(sx - sy) / n < 3 * EVEN ? 1 : 0;
  return (n * sxy - sx * sy) / Math.sqrt(Math.max(even, vx) * Math.max(even, vy));
}

/** Deviation of levels under which nothing is drawn. */
const EVEN = 4;

function luma(raster: PageRaster, x: number, y: number): number {
  const at = (y * raster.width + x) * 3;
  return 0.2126 * raster.rgb[at]! + 0.7152 * raster.rgb[at + 1]! + 0.0722 * raster.rgb[at + 2]!;
}

function lumaBetween(raster: PageRaster, x: number, y: number): number {
  const u = Math.max(0, Math.min(raster.width - 1.001, x));
  const v = Math.max(0, Math.min(raster.height - 1.001, y));
  const left = u | 0;
  const top = v | 0;
  const p = u - left;
  const q = v - top;
  if (p < 0.001 && q < 0.001) return luma(raster, left, top);
  const right = Math.min(raster.width - 1, left + 1);
  const below = Math.min(raster.height - 1, top + 1);
  return (
    (1 - q) * ((1 - p) * luma(raster, left, top) + p * luma(raster, right, top)) +
    q * ((1 - p) * luma(raster, left, below) + p * luma(raster, right, below))
  );
}
