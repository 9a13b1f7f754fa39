import type { Box, PageFacts, PageRaster, PlacedPicture } from '../../src/model/index.ts';
import { mmFromPx, SIGNATURE_SIDE } from '../../src/model/index.ts';
import type { DrawnFacts } from '../../src/comparing/index.ts';
import type { Patch, Scene } from './made-up-scenes.ts';
import { paint } from './made-up-scenes.ts';
import type { TypeLine } from './set-type.ts';
import { setLine } from './set-type.ts';

/** A picture of a sketched page: its frame and what shows in it. */
export interface SketchedPicture {
  readonly window: Box;
  readonly scene: Scene;
  /** What the file says of it beyond its window. */
  readonly told?: Partial<PlacedPicture>;
  /** A picture that the file has drawn in a way that tells nothing of it. */
  readonly untold?: boolean;
}

/** A page as it is laid out: drawn in the order pictures, artwork, type. Lengths in mm. */
export interface PageSketch {
  readonly pageNumber?: number;
  readonly size?: { readonly width: number; readonly height: number };
  readonly pictures?: readonly SketchedPicture[];
  readonly artwork?: readonly Patch[];
  readonly lines?: readonly TypeLine[];
  /** Lines outlined to curves: drawn, and no words told. */
  readonly outlined?: readonly TypeLine[];
}

export const PPI = 100;
export const FINE_PPI = 200;
const SIZE = { width: 64, height: 50 };

/** The facts and the raster of a sketched page, as reading would give them. */
export function drawPage(sketch: PageSketch): DrawnFacts {
  return { facts: factsOf(sketch), raster: drawRaster(sketch, PPI) };
}

/** Both pages at the fine resolution. */
export function drawFine(dummy: PageSketch, revision: PageSketch): { dummy: PageRaster; revision: PageRaster } {
  return { dummy: drawRaster(dummy, FINE_PPI), revision: drawRaster(revision, FINE_PPI) };
}

/** The raster of a sketched page alone. */
export function drawRaster(sketch: PageSketch, ppi: number): PageRaster {
  const { size = SIZE, pictures = [], artwork = [], lines = [], outlined = [] } = sketch;
  const letters = [...lines, ...outlined].flatMap((line) => setLine(line).letters);
  return paint(size, ppi, [...pictures.map(({ window, scene }) => ({ box: window, scene })), ...artwork, ...letters]);
}

function factsOf({ pageNumber = 1, size = SIZE, pictures = [], lines = [] }: PageSketch): PageFacts {
  const trim = { x: 0, y: 0, ...size };
  return {
    pageNumber,
    contentHash: 'a sketch',
    trimmed: size,
    boxes: { media: trim, crop: trim, bleed: trim, trim },
    turnDeg: 0,
    pictures: pictures
      .filter(({ untold }) => untold !== true)
      .map(({ window, told }, index) => ({ ...pictureFacts(window), index, ...told })),
    words: lines.flatMap((line) => setLine(line).words),
    signature: { cells: new Uint8Array(SIGNATURE_SIDE ** 2 * 3) },
    rasterHash: '',
    blank: false,
  };
}

let made = 0;

/** A picture that fills its window at 100 ppi, of data that no other picture has. */
export function pictureFacts(window: Box): PlacedPicture {
  made++;
  return {
    index: 0,
    origin: 'image',
    samplesHash: `samples ${made}`,
    pixelWidth: Math.round((window.width * 100) / 25.4),
    pixelHeight: Math.round((window.height * 100) / 25.4),
    bitsPerComponent: 8,
    colourSpace: 'DeviceRGB',
    filter: 'DCTDecode',
    matrix: [window.width, 0, 0, window.height, window.x, window.y],
    placed: window,
    window,
    effectivePpi: 100,
    bleeds: false,
    softMasked: false,
    pieces: 1,
  };
}

/** Boxes measured in whole pixels of the drawing, as mm of the page. */
export function boxOfPixels(left: number, top: number, width: number, height: number, ppi = PPI): Box {
  const mm = (px: number) => mmFromPx(px, ppi);
  return { x: mm(left), y: mm(top), width: mm(width), height: mm(height) };
}
