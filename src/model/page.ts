import type { Box, Deg, Mm, PagePoint, Ppi, Pt } from './measure.ts';
import type { PlacedPicture } from './picture.ts';

/** A word as the file's text tells it. */
export interface Word {
  readonly text: string;
  /** Around ascender to descender. */
  readonly box: Box;
  /** Where its baseline starts. */
  readonly origin: PagePoint;
  /** Direction of its baseline; 0 reads to the right. */
  readonly turnDeg: Deg;
  readonly sizePt: Pt;
  /** PostScript name without a subset tag. */
  readonly font: string;
}

/** What can be known of a page from the file's objects, without drawing it. */
export interface PageDescription {
  /** From 1, in file order. */
  readonly pageNumber: number;
  /** `witnessleaf-page/1`, lower-case hex. */
  readonly contentHash: string;
  /** Size as trimmed, after /Rotate and UserUnit. */
  readonly trimmed: { readonly width: Mm; readonly height: Mm };
  /** The page's boxes in page axes (so `trim` is at 0, 0), clipped to the MediaBox. */
  readonly boxes: { readonly media: Box; readonly crop: Box; readonly bleed: Box; readonly trim: Box };
  /** /Rotate. */
  readonly turnDeg: 0 | 90 | 180 | 270;
  readonly pictures: readonly PlacedPicture[];
}

/**
 * A page drawn small, for pairing: `SIGNATURE_SIDE` squared cells over the trimmed page, row by row from the top left,
 * three bytes a cell: sRGB averaged over the cell.
 */
export interface PageSignature {
  readonly cells: Uint8Array;
}

/** Cells along each side of a page signature. */
export const SIGNATURE_SIDE = 32;

/** All facts of a page that was read and drawn. */
export interface PageFacts extends PageDescription {
  readonly words: readonly Word[];
  readonly signature: PageSignature;
  /** SHA-256 of the raster's bytes at the analysis resolution. */
  readonly rasterHash: string;
  /** Nothing but paper within the trim. */
  readonly blank: boolean;
}

/** A page that could not be read; the others of its file go on. */
export interface UnreadablePage {
  readonly pageNumber: number;
  readonly unreadable: string;
}

/**
 * The trimmed page as pixels: RGB, 3 bytes a pixel, row by row; pixel (0, 0) has its top left corner at the trim's top
 * left corner. `width` is the trimmed width at `ppi`, rounded.
 */
export interface PageRaster {
  readonly width: number;
  readonly height: number;
  readonly ppi: Ppi;
  readonly rgb: Uint8Array;
}
