import type { PageRaster } from '../model/index.ts';
import { halvePixels, lumaOf, smoothPixels } from './kernels/planes.ts';

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

/**
 * Luma of a part of the page, 0 black to 255 paper.
 *
 * @param box  pixels of the raster; clipped to it
 */
export function lumaPlane(raster: PageRaster, box: PixelBox): Plane {
  const { left, top, width, height } = clipPixelBox(box, raster);
  const from = (top * raster.width + left) * 3;
  return { left, top, width, height, data: lumaOf(raster.rgb, from, raster.width, width, height) };
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
  return {
    left: plane.left / 2,
    top: plane.top / 2,
    width: Math.max(1, plane.width >> 1),
    height: Math.max(1, plane.height >> 1),
    data: halvePixels(plane),
  };
}

/** The plane smoothed by the binomial kernel 1 4 6 4 1 in both directions (standard deviation 1 pixel). */
export function smoothPlane(plane: Plane): Plane {
  return { ...plane, data: smoothPixels(plane) };
}
