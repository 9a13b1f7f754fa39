import type { PageRaster, Ppi } from '../model/index.ts';
import { labFromSrgbBytes } from './colour/lab.ts';
import type { PixelBox } from './plane.ts';
import { clipPixelBox } from './plane.ts';

/** Part of a page as L*, a*, b*, three numbers a cell, row by row; cell (0, 0) lies at (`left`, `top`) cells of the page. */
export interface ColourField {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly ppi: Ppi;
  readonly lab: Float32Array;
}

/** A raster at half its resolution, by the mean of 2 x 2 pixels; an odd last row or column is dropped. */
export function halveRaster(raster: PageRaster): PageRaster {
  const width = Math.max(1, raster.width >> 1);
  const height = Math.max(1, raster.height >> 1);
  const rgb = new Uint8Array(width * height * 3);
  const stride = raster.width * 3;
  const right = raster.width > 1 ? 3 : 0;
  const below = raster.height > 1 ? stride : 0;
  const source = raster.rgb;
  const rows = { source, right, below, rgb, width };
  for (let y = 0; y < height; y++) halveRow(rows, 2 * y * stride, y * width * 3);
  return { width, height, ppi: raster.ppi / 2, rgb };
}

interface HalvedRows {
  readonly source: Uint8Array;
  /** Distance of the neighbour to the right, and of the one below. */
  readonly right: number;
  readonly below: number;
  readonly rgb: Uint8Array;
  readonly width: number;
}

// Row by row in a function of its own, here and elsewhere: the engine compiles what is called often much sooner than
// what merely takes long.
function halveRow({ source, right, below, rgb, width }: HalvedRows, from: number, to: number): void {
  for (let x = 0, a = from, out = to; x < width; x++, a += 6, out += 3) {
    const b = a + right;
    const c = a + below;
    const d = c + right;
    rgb[out] = (source[a]! + source[b]! + source[c]! + source[d]! + 2) >> 2;
    rgb[out + 1] = (source[a + 1]! + source[b + 1]! + source[c + 1]! + source[d + 1]! + 2) >> 2;
    rgb[out + 2] = (source[a + 2]! + source[b + 2]! + source[c + 2]! + source[d + 2]! + 2) >> 2;
  }
}

/** The colours of a part of a raster, lightly smoothed (1 2 1) so that single pixels of noise do not speak. */
export function colourField(raster: PageRaster, box: PixelBox): ColourField {
  const { left, top, width, height } = clipPixelBox(box, raster);
  const bytes = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    const from = ((top + y) * raster.width + left) * 3;
    bytes.set(raster.rgb.subarray(from, from + width * 3), y * width * 3);
  }
  const lab = new Float32Array(bytes.length);
  labFromSrgbBytes(smoothBytes(bytes, width, height), lab);
  return { left, top, width, height, ppi: raster.ppi, lab };
}

function smoothBytes(bytes: Uint8Array, width: number, height: number): Uint8Array {
  const across = new Uint16Array(bytes.length);
  const stride = width * 3;
  for (let y = 0; y < height; y++) smoothAlong(bytes, across, y * stride, stride);
  const out = new Uint8Array(bytes.length);
  for (let y = 0; y < height; y++) {
    const row = y * stride;
    smoothDown(across, out, row, {
      above: y > 0 ? row - stride : row,
      under: y < height - 1 ? row + stride : row,
      stride,
    });
  }
  return out;
}

function smoothAlong(bytes: Uint8Array, across: Uint16Array, row: number, stride: number): void {
  for (let at = row + 3; at < row + stride - 3; at++) across[at] = bytes[at - 3]! + 2 * bytes[at]! + bytes[at + 3]!;
  const inner = Math.min(3, stride - 3);
  for (let channel = 0; channel < 3; channel++) {
    const first = row + channel;
    const last = first + stride - 3;
    across[first] = 3 * bytes[first]! + bytes[first + inner]!;
    across[last] = 3 * bytes[last]! + bytes[last - inner]!;
  }
}

function smoothDown(
  across: Uint16Array,
  out: Uint8Array,
  row: number,
  { above, under, stride }: { readonly above: number; readonly under: number; readonly stride: number },
): void {
  for (let i = 0; i < stride; i++) {
    out[row + i] = (across[above + i]! + 2 * across[row + i]! + across[under + i]! + 8) >> 4;
  }
}
