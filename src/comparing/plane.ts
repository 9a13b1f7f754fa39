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
  const { rgb } = raster;
  let to = 0;
  for (let y = clipped.top; y < clipped.top + clipped.height; y++) {
    let from = (y * raster.width + clipped.left) * 3;
    for (let x = 0; x < clipped.width; x++, from += 3) {
      plane.data[to++] = 0.2126 * rgb[from]! + 0.7152 * rgb[from + 1]! + 0.0722 * rgb[from + 2]!;
    }
  }
  return plane;
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
  for (let y = 0; y < height; y++) {
    let from = 2 * y * stride;
    for (let x = 0; x < width; x++, from += 2) {
      data[y * width + x] =
        (plane.data[from]! +
          plane.data[from + right]! +
          plane.data[from + below]! +
          plane.data[from + below + right]!) /
        4;
    }
  }
  return { left: plane.left / 2, top: plane.top / 2, width, height, data };
}

/** The plane smoothed by the binomial kernel 1 4 6 4 1 in both directions (standard deviation 1 pixel). */
export function smoothPlane(plane: Plane): Plane {
  const { width, height, data } = plane;
  const across = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let x = 0; x < width; x++) {
      if (x >= 2 && x < width - 2) {
        const i = row + x;
        across[i] = (data[i - 2]! + data[i + 2]! + 4 * (data[i - 1]! + data[i + 1]!) + 6 * data[i]!) / 16;
      } else {
        const a = data[row + Math.max(0, x - 2)]!;
        const b = data[row + Math.max(0, x - 1)]!;
        const d = data[row + Math.min(width - 1, x + 1)]!;
        const e = data[row + Math.min(width - 1, x + 2)]!;
        across[row + x] = (a + e + 4 * (b + d) + 6 * data[row + x]!) / 16;
      }
    }
  }
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    const a = Math.max(0, y - 2) * width;
    const b = Math.max(0, y - 1) * width;
    const c = y * width;
    const d = Math.min(height - 1, y + 1) * width;
    const e = Math.min(height - 1, y + 2) * width;
    for (let x = 0; x < width; x++) {
      out[c + x] = (across[a + x]! + across[e + x]! + 4 * (across[b + x]! + across[d + x]!) + 6 * across[c + x]!) / 16;
    }
  }
  return { ...plane, data: out };
}

/**
 * Central differences, in levels a pixel.
 *
 * @returns `dx` and `dy`, as long as the plane's data; 0 at the rim
 */
export function gradients(plane: Plane): { readonly dx: Float32Array; readonly dy: Float32Array } {
  const { width, height, data } = plane;
  const dx = new Float32Array(data.length);
  const dy = new Float32Array(data.length);
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < y * width + width - 1; i++) {
      dx[i] = (data[i + 1]! - data[i - 1]!) / 2;
      dy[i] = (data[i + width]! - data[i - width]!) / 2;
    }
  }
  return { dx, dy };
}
