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
  let to = 0;
  for (let y = 0; y < height; y++) {
    let from = 2 * y * stride;
    for (let x = 0; x < width; x++, from += 6) {
      for (let c = 0; c < 3; c++, to++) {
        const at = from + c;
        rgb[to] = (source[at]! + source[at + right]! + source[at + below]! + source[at + below + right]! + 2) >> 2;
      }
    }
  }
  return { width, height, ppi: raster.ppi / 2, rgb };
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
  for (let y = 0; y < height; y++) {
    const row = y * stride;
    for (let i = 0; i < stride; i++) {
      const before = i >= 3 ? bytes[row + i - 3]! : bytes[row + i]!;
      const after = i < stride - 3 ? bytes[row + i + 3]! : bytes[row + i]!;
      across[row + i] = before + 2 * bytes[row + i]! + after;
    }
  }
  const out = new Uint8Array(bytes.length);
  for (let y = 0; y < height; y++) {
    const row = y * stride;
    const above = y > 0 ? row - stride : row;
    const under = y < height - 1 ? row + stride : row;
    for (let i = 0; i < stride; i++) {
      out[row + i] = (across[above + i]! + 2 * across[row + i]! + across[under + i]! + 8) >> 4;
    }
  }
  return out;
}
