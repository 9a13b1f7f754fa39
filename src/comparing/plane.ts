import type { PageRaster } from '../model/index.ts';

/**
 * One channel of a raster: row by row from the top left. Pixel (0, 0) of the plane is pixel (`left`, `top`) of the
 * page raster it was taken from.
 */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly top: number;
  readonly data: Float32Array;
}

/** A rectangle of whole pixels on a page raster. */
export interface PixelBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** An empty plane in place of a pixel box. */
export function blankPlane({ left, top, width, height }: PixelBox): Plane {
  return { left, top, width, height, data: new Float32Array(width * height) };
}

/**
 * Luma of a part of the page, 0 black to 255 paper.
 *
 * @param box  pixels of the raster; clipped to it
 * @source weights of ITU-R BT.709 on the encoded values, from memory; any fixed weights serve a comparison
 */
export function lumaPlane(raster: PageRaster, box: PixelBox): Plane {
  const clipped = clipPixelBox(box, raster);
  const plane = blankPlane(clipped);
  for (let y = 0; y < clipped.height; y++) {
    const from = ((clipped.top + y) * raster.width + clipped.left) * 3;
    lumaRow(raster.rgb, from, plane.data, y * clipped.width, clipped.width);
  }
  return plane;
}

function lumaRow(rgb: Uint8Array, from: number, out: Float32Array, to: number, width: number): void {
  for (let x = 0, at = from; x < width; x++, at += 3) {
    out[to + x] = 0.2126 * rgb[at]! + 0.7152 * rgb[at + 1]! + 0.0722 * rgb[at + 2]!;
  }
}

/** The part of a pixel box that lies on a raster; at least one pixel where the raster has any. */
export function clipPixelBox(box: PixelBox, raster: { readonly width: number; readonly height: number }): PixelBox {
  const left = Math.min(Math.max(0, box.left), Math.max(0, raster.width - 1));
  const top = Math.min(Math.max(0, box.top), Math.max(0, raster.height - 1));
  const right = Math.max(left + 1, Math.min(raster.width, box.left + box.width));
  const bottom = Math.max(top + 1, Math.min(raster.height, box.top + box.height));
  return { left, top, width: right - left, height: bottom - top };
}

/**
 * Half the size by the mean of 2 x 2 pixels. The result counts in its own, doubled pixels: its `left` and `top` are
 * halves, so that pixel centres stay where they were.
 */
export function halvePlane(plane: Plane): Plane {
  const width = Math.max(1, plane.width >> 1);
  const height = Math.max(1, plane.height >> 1);
  const data = new Float32Array(width * height);
  const stride = plane.width;
  const right = plane.width > 1 ? 1 : 0;
  const below = plane.height > 1 ? stride : 0;
  for (let y = 0; y < height; y++) halveRow(plane.data, 2 * y * stride, { right, below }, data, y * width, width);
  return { left: plane.left / 2, top: plane.top / 2, width, height, data };
}

function halveRow(
  source: Float32Array,
  from: number,
  { right, below }: { readonly right: number; readonly below: number },
  out: Float32Array,
  to: number,
  width: number,
): void {
  for (let x = 0, at = from; x < width; x++, at += 2) {
    out[to + x] = (source[at]! + source[at + right]! + source[at + below]! + source[at + below + right]!) / 4;
  }
}

/** The plane smoothed by the binomial kernel 1 4 6 4 1 in both directions (standard deviation 1 pixel). */
export function smoothPlane(plane: Plane): Plane {
  const { width, height, data } = plane;
  const across = new Float32Array(data.length);
  for (let y = 0; y < height; y++) smoothAlong(data, across, y * width, width);
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    const rows = [-2, -1, 0, 1, 2].map((step) => Math.max(0, Math.min(height - 1, y + step)) * width);
    smoothDown(across, out, rows, width);
  }
  return { ...plane, data: out };
}

function smoothAlong(data: Float32Array, out: Float32Array, row: number, width: number): void {
  for (let i = row + 2; i < row + width - 2; i++) {
    out[i] = (data[i - 2]! + data[i + 2]! + 4 * (data[i - 1]! + data[i + 1]!) + 6 * data[i]!) / 16;
  }
  for (let x = 0; x < width; x += x === 1 && width > 4 ? width - 3 : 1) {
    const [a, b, d, e] = [-2, -1, 1, 2].map((step) => data[row + Math.max(0, Math.min(width - 1, x + step))]!);
    out[row + x] = (a! + e! + 4 * (b! + d!) + 6 * data[row + x]!) / 16;
  }
}

function smoothDown(across: Float32Array, out: Float32Array, rows: readonly number[], width: number): void {
  const [a, b, c, d, e] = [rows[0]!, rows[1]!, rows[2]!, rows[3]!, rows[4]!];
  for (let x = 0; x < width; x++) {
    out[c + x] = (across[a + x]! + across[e + x]! + 4 * (across[b + x]! + across[d + x]!) + 6 * across[c + x]!) / 16;
  }
}
