import type { PDFPageProxy } from 'pdfjs-dist';
import type { PageRaster, Ppi } from '../../model/index.ts';
import { PT_PER_INCH } from '../../model/index.ts';
import { operatorListBeingDrawn, type OperatorList } from '../text/operator-list.ts';
import { loadCanvas } from './canvas.ts';
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
  { left, top, width, height, ppi }: RasterPart & { readonly ppi: Ppi },
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
    transform: [1, UNNOTICEABLE_TURN, -UNNOTICEABLE_TURN, 1, -left, -top],
  });
  let operators: OperatorList | null = null;
  task.onContinue = (goOn: () => void) => {
    operators ??= operatorListBeingDrawn(page);
    goOn();
  };
  await task.promise;
  if (operators !== null) drawn(operators);
  return { width, height, ppi, rgb: withoutAlpha(context.getImageData(0, 0, width, height).data) };
}

/** Red, green and blue of opaque pixels; four pixels at a time, since every page has a million. */
function withoutAlpha(rgba: Uint8ClampedArray): Uint8Array {
  const pixels = rgba.length >> 2;
  const rgb = new Uint8Array(pixels * 3);
  const fours = IS_LITTLE_ENDIAN && rgba.byteOffset % 4 === 0 ? pixels >> 2 : 0;
  const from = new Uint32Array(rgba.buffer, fours === 0 ? 0 : rgba.byteOffset, fours * 4);
  const to = new Uint32Array(rgb.buffer, 0, fours * 3);
  for (let four = 0, at = 0, out = 0; four < fours; four++, at += 4, out += 3) {
    const second = from[at + 1]!;
    const third = from[at + 2]!;
    to[out] = (from[at]! & 0xffffff) | (second << 24);
    to[out + 1] = ((second >>> 8) & 0xffff) | (third << 16);
    to[out + 2] = ((third >>> 16) & 0xff) | (from[at + 3]! << 8);
  }
  for (let pixel = fours * 4; pixel < pixels; pixel++) {
    for (let channel = 0; channel < 3; channel++) rgb[pixel * 3 + channel] = rgba[pixel * 4 + channel]!;
  }
  return rgb;
}

const IS_LITTLE_ENDIAN = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;
