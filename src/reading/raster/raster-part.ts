/** A part of a raster, in its pixels from the top left. */
export interface RasterPart {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}
