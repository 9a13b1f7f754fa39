import { SIGNATURE_SIDE, type PageRaster, type PageSignature } from '../../model/index.ts';
import { sumOfRows } from './kernels/pixels.ts';

/** Grey levels under white that paper may have: what smoothing and lossy coding leave on blank paper. */
const PAPER_TOLERANCE = 6;
const WHITE = 0xffffffff;
/** Share of pixels that may still be darker: stray noise of a coded picture of nothing. */
const STRAY_SHARE = 1e-5;

/** The page drawn as `SIGNATURE_SIDE` squared cells, each the average of its pixels in sRGB, rounded. */
export function pageSignature(raster: PageRaster): PageSignature {
  const { width, height, rgb } = raster;
  const cells = new Uint8Array(SIGNATURE_SIDE * SIGNATURE_SIDE * 3);
  for (let row = 0; row < SIGNATURE_SIDE; row++) {
    const [top, bottom] = cellRange(row, height);
    const sums = sumOfRows(rgb, width * 3, top, bottom);
    for (let column = 0; column < SIGNATURE_SIDE; column++) {
      const [left, right] = cellRange(column, width);
      const pixels = (bottom - top) * (right - left);
      for (let channel = 0; channel < 3; channel++) {
        let sum = 0;
        for (let at = left * 3 + channel; at < right * 3; at += 3) sum += sums[at]!;
        cells[(row * SIGNATURE_SIDE + column) * 3 + channel] = Math.round(sum / pixels);
      }
    }
  }
  return { cells };
}

/** The pixels of one cell along an axis; at least one, also on a page smaller than the cells. */
function cellRange(cell: number, pixels: number): readonly [from: number, to: number] {
  const from = Math.min(pixels - 1, Math.floor((cell * pixels) / SIGNATURE_SIDE));
  return [from, Math.max(from + 1, Math.floor(((cell + 1) * pixels) / SIGNATURE_SIDE))];
}

/** Whether a page shows nothing but paper within its trim. */
export function isBlank(raster: PageRaster): boolean {
  const { rgb } = raster;
  const allowed = Math.floor((rgb.length / 3) * STRAY_SHARE);
  let stray = 0;
  // By index: an iterator takes ten times as long, and blank pages are looked through to their end.
  for (let at = whiteAtFront(rgb); at < rgb.length; at++) {
    if (rgb[at]! >= 255 - PAPER_TOLERANCE) continue;
    stray += 1;
    if (stray > allowed) return false;
  }
  return true;
}

/** How many bytes at the beginning are pure white, four at a time: most pages begin with a margin. */
function whiteAtFront(rgb: Uint8Array): number {
  if (rgb.byteOffset % 4 !== 0) return 0;
  const fours = new Uint32Array(rgb.buffer, rgb.byteOffset, rgb.length >> 2);
  let at = 0;
  while (at < fours.length && fours[at] === WHITE) at += 1;
  return at * 4;
}
