import type { Box, Matrix, Ppi } from './measure.ts';

/** How a picture came into the page's content. */
export type PictureOrigin = 'image' | 'inline-image' | 'stencil-mask';

/** One placed image: its data, its window (what shows), its placement. */
export interface PlacedPicture {
  /** Counted from 0 in drawing order on the page. */
  readonly index: number;
  readonly origin: PictureOrigin;
  /**
   * SHA-256 of the samples after all lossless filters; under a lossy filter (DCTDecode, JPXDecode) of the coded stream,
   * which stands for its samples: equal streams decode to equal samples.
   */
  readonly samplesHash: string;
  readonly pixelWidth: number;
  readonly pixelHeight: number;
  readonly bitsPerComponent: number;
  /** As the file says it, resolved to its family: DeviceRGB, DeviceCMYK, DeviceGray, ICCBased(4), Indexed(DeviceRGB), … */
  readonly colourSpace: string;
  /** Last filter's name (DCTDecode, FlateDecode, …), or 'none'. */
  readonly filter: string;
  /** From the image's own square (0,0 its top left, 1,1 its bottom right, y down) to page mm. */
  readonly matrix: Matrix;
  /** Bounding box of the whole image as placed. */
  readonly placed: Box;
  /** Bounding box of what shows of it: the image clipped by the clipping path and the page's media. */
  readonly window: Box;
  /** Pixels an inch on the page, the smaller of both axes. */
  readonly effectivePpi: Ppi;
  /** Whether its window reaches over the trim edge. */
  readonly bleeds: boolean;
  readonly softMasked: boolean;
  /** How many pieces an exporter cut it into; 1 for a whole one. */
  readonly pieces: number;
}
