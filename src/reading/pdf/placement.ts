import type { PDFDict, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import type { Box, Matrix, PictureOrigin } from '../../model/index.ts';
import type { Clip } from './geometry/clip.ts';
import type { Polygon } from './geometry/polygon.ts';

/** One image where a page draws it. */
export interface Placement {
  /** Null for an image that stands in the content itself. */
  readonly ref: PDFRef | null;
  readonly stream: PDFRawStream | null;
  /** The image's dictionary; of an inline image in full names, its colour space resolved. */
  readonly dict: PDFDict;
  /** The data as they are in the file; they may have to be read from disk. */
  readonly coded: () => Uint8Array;
  /** From the image's own square (0,0 its top left, 1,1 its bottom right, y down) to page mm. */
  readonly matrix: Matrix;
  /** The square on the page. */
  readonly outline: Polygon;
  /** What shows of it, page mm; null where nothing does. */
  readonly window: Box | null;
  readonly origin: PictureOrigin;
  /** Under a soft mask, its own or the graphics state's. */
  readonly softMasked: boolean;
  /** Drawn by a pattern's cell or a soft mask's group. */
  readonly inPatternOrMask: boolean;
  /** The clip it was drawn under; the same object for pictures that nothing clipped apart. */
  readonly clip: Clip;
  /** Counts what the page paints: two placements with neighbouring numbers have nothing drawn between them. */
  readonly sequence: number;
}
