import type { Box, Mm, PageRaster, PlacedPicture } from '../../model/index.ts';
import { intersectBoxes, pxFromMm } from '../../model/index.ts';
import type { PixelBox } from '../plane.ts';
import { clipPixelBox } from '../plane.ts';

/** A picture with what of its window lies on the trimmed page. */
export interface VisiblePicture {
  readonly picture: PlacedPicture;
  readonly window: Box;
}

/** Pictures smaller than this each way are ornaments and belong to the artwork. */
export const LEAST_SIDE_MM = 4;

/** The pictures of a page that a reader of the trimmed page sees as pictures, in drawing order. */
export function visiblePictures(
  pictures: readonly PlacedPicture[],
  trimmed: { readonly width: Mm; readonly height: Mm },
): readonly VisiblePicture[] {
  const page = { x: 0, y: 0, width: trimmed.width, height: trimmed.height };
  return pictures.flatMap((picture) => {
    const window = intersectBoxes(picture.window, page);
    if (window === null || picture.origin === 'stencil-mask') return [];
    return window.width >= LEAST_SIDE_MM && window.height >= LEAST_SIDE_MM ? [{ picture, window }] : [];
  });
}

/** The whole pixels of a raster that lie within a box on the page, `insetPx` pixels further in. */
export function pixelsWithin(box: Box, raster: PageRaster, insetPx = 0): PixelBox {
  const left = Math.ceil(pxFromMm(box.x, raster.ppi) - 0.05) + insetPx;
  const top = Math.ceil(pxFromMm(box.y, raster.ppi) - 0.05) + insetPx;
  const right = Math.floor(pxFromMm(box.x + box.width, raster.ppi) + 0.05) - insetPx;
  const bottom = Math.floor(pxFromMm(box.y + box.height, raster.ppi) + 0.05) - insetPx;
  return clipPixelBox({ left, top, width: right - left, height: bottom - top }, raster);
}

/** The pixels that a box touches. */
export function pixelsAround(box: Box, raster: PageRaster): PixelBox {
  const left = Math.floor(pxFromMm(box.x, raster.ppi));
  const top = Math.floor(pxFromMm(box.y, raster.ppi));
  const right = Math.ceil(pxFromMm(box.x + box.width, raster.ppi));
  const bottom = Math.ceil(pxFromMm(box.y + box.height, raster.ppi));
  return clipPixelBox({ left, top, width: right - left, height: bottom - top }, raster);
}
