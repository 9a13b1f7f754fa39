import { createHash } from 'node:crypto';
import type { PDFDocumentProxy } from 'pdfjs-dist';
import { pxFromMm, Refusal, type Limits, type PageRaster, type Ppi, type Word } from '../../model/index.ts';
import type { Book } from '../pdf/book.ts';
import { pageGeometry, type PageGeometry } from '../pdf/boxes.ts';
import { onPage } from '../pdf/on-page.ts';
import { placementsOnPage } from '../pdf/placements.ts';
import { LayerVisibility } from '../text/layer-visibility.ts';
import { pageWords } from '../text/words.ts';
import { HandedPictures } from './handed-pictures.ts';
import type { PictureShelf } from './picture-shelf.ts';
import { loadPdfjs, withDocument } from './pdfjs.ts';
import type { RasterPart } from './raster-part.ts';
import { rasterFromPage } from './raster-from-page.ts';
import { slimPage } from './slim-page.ts';

/** Which page of which open book, how finely, within which limits. */
export interface PageRequest {
  readonly book: Book;
  /** From 1. */
  readonly pageNumber: number;
  readonly ppi: Ppi;
  readonly limits: Limits;
  /**
   * Only this part of the raster, in its pixels from the top left; within it pictures are not smoothed, so that each of
   * their pixels is seen. Without it, the whole page.
   */
  readonly part?: RasterPart;
  /** Where pictures wait that further pages of the same check show too. */
  readonly shelf?: PictureShelf | null;
}

/** A page as pixels and as words. */
export interface DrawnPage {
  readonly raster: PageRaster;
  readonly words: readonly Word[];
}

/** Pixels of one raster: a page of 2 x 2 m at 127 ppi, or of 250 x 300 mm at 900 ppi. */
const RASTER_PIXELS = 100e6;

/**
 * Draws the trimmed page on white paper and reads its words. The same file gives the same bytes on every run.
 *
 * @throws {Refusal} too-large: page, raster or a picture over the limits; unreadable: the page cannot be drawn;
 * not-found: no such page
 */
export async function drawPage({ book, pageNumber, ppi, limits, part, shelf }: PageRequest): Promise<DrawnPage> {
  const geometry = pageGeometry(book, pageNumber);
  const { trimmed } = geometry;
  const shown = part ?? {
    ...{ left: 0, top: 0 },
    width: Math.max(1, Math.round(pxFromMm(trimmed.width, ppi))),
    height: Math.max(1, Math.round(pxFromMm(trimmed.height, ppi))),
  };
  requireAffordable(shown.width * shown.height, pageNumber);
  try {
    const placements = placementsOnPage(book, pageNumber);
    const handed = new HandedPictures();
    const file = await slimPage({
      book,
      pageNumber,
      placements,
      ppi,
      limits,
      showsPixels: part !== undefined,
      shelf: shelf ?? null,
      handed,
    });
    return await withDocument(file, (document) => drawDocument(document, handed, { ...shown, ppi }, geometry));
  } catch (error) {
    return onPage(book, pageNumber, () => {
      throw error instanceof Refusal ? error : cannotBeDrawn(book, pageNumber, error);
    });
  }
}

/** Loads the renderer and the canvas, which takes as long as drawing some pages; done by itself with the first page. */
export async function getReadyToDraw(): Promise<void> {
  await loadPdfjs();
}

async function drawDocument(
  document: PDFDocumentProxy,
  handed: HandedPictures,
  size: RasterPart & { readonly ppi: Ppi },
  { toPage, boxes }: PageGeometry,
): Promise<DrawnPage> {
  const { OPS } = await loadPdfjs();
  const page = await document.getPage(1);
  await handed.giveTo(page);
  const layers = new LayerVisibility(await document.getOptionalContentConfig({ intent: 'print' }));
  const names = Object.fromEntries(Object.entries(OPS).map(([name, number]) => [number, name]));
  let words: readonly Word[] = [];
  const raster = await rasterFromPage(page, size, (operators) => {
    words = pageWords({ page, operators, names, layers, toPage, trim: boxes.trim });
  });
  return { raster, words };
}

function cannotBeDrawn(book: Book, pageNumber: number, cause: unknown): Refusal {
  const reason = `it cannot be drawn (${cause instanceof Error ? cause.message : String(cause)})`;
  return new Refusal('unreadable', { file: book.name, reason, page: pageNumber }, cause);
}

/** SHA-256 of a raster's bytes, lower-case hex. It means something only together with `RASTER_RENDERER`. */
export function rasterHash(raster: PageRaster): string {
  return createHash('sha256').update(raster.rgb).digest('hex');
}

function requireAffordable(pixels: number, pageNumber: number): void {
  if (pixels <= RASTER_PIXELS) return;
  throw new Refusal('too-large', {
    what: 'the page as a raster',
    limit: RASTER_PIXELS,
    found: pixels,
    unit: 'pixels',
    page: pageNumber,
  });
}
