import { SIGNATURE_SIDE, type PageRaster, type PageSignature } from '../../model/index.ts';

/** Grey levels under white that paper may have: what smoothing and lossy coding leave on blank paper. */
const PAPER_TOLERANCE = 6;
/** Share of pixels that may still be darker: stray noise of a coded picture of nothing. */
const STRAY_SHARE = 1e-5;

/** The page drawn as `SIGNATURE_SIDE` squared cells, each the average of its pixels in sRGB, rounded. */
export function pageSignature(raster: PageRaster): PageSignature {
  const { width, height, rgb } = raster;
  const cells = new Uint8Array(SIGNATURE_SIDE * SIGNATURE_SIDE * 3);
  const columns = Array.from({ length: SIGNATURE_SIDE }, (_, column) => cellRange(column, width));
  for (let row = 0; row < SIGNATURE_SIDE; row++) {
    const [top, bottom] = cellRange(row, height);
    const sums = new Int32Array(SIGNATURE_SIDE * 3);
    // along whole rows of the raster, as it lies in memory: twice as fast as cell by cell
    for (let y = top; y < bottom; y++) {
      columns.forEach(([left, right], column) => {
        addPixels(rgb, (y * width + left) * 3, (y * width + right) * 3, sums, column * 3);
      });
    }
    columns.forEach(([left, right], column) => {
      const pixels = (bottom - top) * (right - left);
      for (let channel = 0; channel < 3; channel++) {
        cells[(row * SIGNATURE_SIDE + column) * 3 + channel] = Math.round(sums[column * 3 + channel]! / pixels);
      }
    });
  }
  return { cells };
}

function addPixels(rgb: Uint8Array, from: number, end: number, sums: Int32Array, to: number): void {
  let [red, green, blue] = [0, 0, 0];
  for (let at = from; at < end; at += 3) {
    red += rgb[at]!;
    green += rgb[at + 1]!;
    blue += rgb[at + 2]!;
  }
  sums[to]! += red;
  sums[to + 1]! += green;
  sums[to + 2]! += blue;
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
  for (let at = 0; at < rgb.length; at++) {
    if (rgb[at]! >= 255 - PAPER_TOLERANCE) continue;
    stray += 1;
    if (stray > allowed) return false;
  }
  return true;
}
