import type { PDFPageProxy } from 'pdfjs-dist';
import type { PageRaster, Ppi } from '../../model/index.ts';
import { PT_PER_INCH } from '../../model/index.ts';
import { operatorListBeingDrawn, type OperatorList } from '../text/operator-list.ts';
import { loadCanvas } from './canvas.ts';
import { loadPdfjs } from './pdfjs.ts';

/**
 * A turn of the page by about a ten-thousandth of a pixel. The renderer moves upright pictures to whole pixels, up to
 * half a pixel off their place; it leaves alone what is not quite upright.
 */
const UNNOTICEABLE_TURN = 1e-7;

/**
 * Draws a slim page onto white paper.
 *
 * @param drawn  is given the operators that the page was drawn from, before they are let go
 */
export async function rasterFromPage(
  page: PDFPageProxy,
  { width, height, ppi }: { readonly width: number; readonly height: number; readonly ppi: Ppi },
  drawn: (operators: OperatorList) => void,
): Promise<PageRaster> {
  const { AnnotationMode } = await loadPdfjs();
  const { createCanvas } = await loadCanvas();
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  const viewport = page.getViewport({ scale: ppi / PT_PER_INCH });
  const task = page.render({
    canvas: null,
    canvasContext: context as unknown as CanvasRenderingContext2D,
    viewport,
    intent: 'print',
    annotationMode: AnnotationMode.DISABLE,
    background: 'rgb(255,255,255)',
    transform: [1, UNNOTICEABLE_TURN, -UNNOTICEABLE_TURN, 1, 0, 0],
  });
  let operators: OperatorList | null = null;
  task.onContinue = (goOn: () => void) => {
    operators ??= operatorListBeingDrawn(page);
    goOn();
  };
  await task.promise;
  if (operators !== null) drawn(operators);
  const rgba = context.getImageData(0, 0, width, height).data;
  const rgb = new Uint8Array(width * height * 3);
  for (let from = 0, to = 0; from < rgba.length; from += 4, to += 3) {
    rgb[to] = rgba[from]!;
    rgb[to + 1] = rgba[from + 1]!;
    rgb[to + 2] = rgba[from + 2]!;
  }
  return { width, height, ppi, rgb };
}
