import type { PDFPageProxy } from 'pdfjs-dist';
import type { PageRaster, Ppi } from '../../model/index.ts';
import { PT_PER_INCH } from '../../model/index.ts';
import { operatorListBeingDrawn, type OperatorList } from '../text/operator-list.ts';
import { createCanvasForPage, drawWithFontsWhenAsked } from './fonts-when-asked.ts';
import { firstThreeOfFour } from './kernels/pixels.ts';
import type { RasterPart } from './raster-part.ts';
import { loadPdfjs } from './pdfjs.ts';

/**
 * A turn of the page by about a ten-thousandth of a pixel. The renderer moves upright pictures to whole pixels, up to
 * half a pixel off their place; it leaves alone what is not quite upright.
 */
const UNNOTICEABLE_TURN = 1e-7;

/**
 * Draws a part of a slim page onto white paper.
 *
 * @param drawn  is given the operators that the page was drawn from, before they are let go
 */
export async function rasterFromPage(
  page: PDFPageProxy,
  part: RasterPart & { readonly ppi: Ppi },
  drawn: (operators: OperatorList) => void,
): Promise<PageRaster> {
  const { raster, operators } = await drawWithFontsWhenAsked(() => drawPart(page, part));
  if (operators !== null) drawn(operators);
  return raster;
}

async function drawPart(
  page: PDFPageProxy,
  { left, top, width, height, ppi }: RasterPart & { readonly ppi: Ppi },
): Promise<{ readonly raster: PageRaster; readonly operators: OperatorList | null }> {
  const { AnnotationMode } = await loadPdfjs();
  const canvas = await createCanvasForPage(width, height);
  const context = canvas.getContext('2d');
  const viewport = page.getViewport({ scale: ppi / PT_PER_INCH });
  const task = page.render({
    canvas: null,
    canvasContext: context as unknown as CanvasRenderingContext2D,
    viewport,
    intent: 'print',
    annotationMode: AnnotationMode.DISABLE,
    background: 'rgb(255,255,255)',
    transform: [1, UNNOTICEABLE_TURN, -UNNOTICEABLE_TURN, 1, -left, -top],
  });
  let operators: OperatorList | null = null;
  task.onContinue = (goOn: () => void) => {
    operators ??= operatorListBeingDrawn(page);
    goOn();
  };
  await task.promise;
  // The canvas's own pixels, premultiplied: on opaque paper the same as an image's, without a copy of a million of them.
  return { raster: { width, height, ppi, rgb: firstThreeOfFour(canvas.data()) }, operators };
}
