import type { Box, Mm, Ppi } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import type { PixelBox } from '../plane.ts';

/** A box larger by a margin on every side. */
export function growBox(box: Box, marginMm: Mm): Box {
  return {
    x: box.x - marginMm,
    y: box.y - marginMm,
    width: box.width + 2 * marginMm,
    height: box.height + 2 * marginMm,
  };
}

/**
 * Which pixels of an area lie under none of the boxes.
 *
 * @param area   pixels of the page at `ppi`
 * @param boxes  on the page, mm
 * @returns 1 uncovered, 0 covered; as many as the area has pixels, row by row
 */
export function uncovered(area: PixelBox, ppi: Ppi, boxes: readonly Box[]): Uint8Array {
  const mask = new Uint8Array(area.width * area.height).fill(1);
  for (const box of boxes) {
    const left = Math.max(0, Math.floor(pxFromMm(box.x, ppi)) - area.left);
    const top = Math.max(0, Math.floor(pxFromMm(box.y, ppi)) - area.top);
    const right = Math.min(area.width, Math.ceil(pxFromMm(box.x + box.width, ppi)) - area.left);
    const bottom = Math.min(area.height, Math.ceil(pxFromMm(box.y + box.height, ppi)) - area.top);
    for (let y = top; y < bottom; y++) {
      if (right > left) mask.fill(0, y * area.width + left, y * area.width + right);
    }
  }
  return mask;
}

/** Whether most of a mask is 0. */
export function mostlyCovered(mask: Uint8Array): boolean {
  let open = 0;
  for (const value of mask) open += value;
  return open < 0.1 * mask.length;
}
