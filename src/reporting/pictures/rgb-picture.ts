import { pxFromMm } from '../../model/index.ts';
import type { Box, PageRaster } from '../../model/index.ts';

/** A picture as pixels: RGB, 3 bytes a pixel, row by row from the top left. */
export interface RgbPicture {
  readonly width: number;
  readonly height: number;
  readonly rgb: Uint8Array;
}

/** What lies around a page that is smaller than the region shown: a light desk, no paper white. */
const DESK = 0xd8;

/** Cuts a region out of a drawn page; what lies beyond the page is filled with the desk's grey. */
export function cutRegion(page: PageRaster, region: Box): RgbPicture {
  const width = Math.max(1, Math.round(pxFromMm(region.width, page.ppi)));
  const height = Math.max(1, Math.round(pxFromMm(region.height, page.ppi)));
  const left = Math.round(pxFromMm(region.x, page.ppi));
  const top = Math.round(pxFromMm(region.y, page.ppi));
  const rgb = new Uint8Array(width * height * 3).fill(DESK);
  const from = Math.max(0, left);
  const to = Math.min(page.width, left + width);
  if (to <= from) return { width, height, rgb };
  for (let row = 0; row < height; row += 1) {
    const y = top + row;
    if (y < 0 || y >= page.height) continue;
    const start = (y * page.width + from) * 3;
    rgb.set(page.rgb.subarray(start, start + (to - from) * 3), (row * width + from - left) * 3);
  }
  return { width, height, rgb };
}
