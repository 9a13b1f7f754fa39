import type { PageRaster, Ppi } from '../model/index.ts';
import { labFromSrgbBytes } from './colour/lab.ts';
import { halveRgb, smoothRgb } from './kernels/rows.ts';
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
  return { width, height, ppi: raster.ppi / 2, rgb: halveRgb(raster.rgb, raster.width, raster.height) };
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
  labFromSrgbBytes(smoothRgb(bytes, width, height), lab);
  return { left, top, width, height, ppi: raster.ppi, lab };
}
