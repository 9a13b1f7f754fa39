import type { Weight } from '../../model/index.ts';
import { COLOUR } from './paper.ts';

/** The sign of a weight, as on the screen: a square, a diamond, a ring. Its top left corner at x, y; 8 points wide. */
export function drawWeightSign(document: PDFKit.PDFDocument, weight: Weight, x: number, y: number): void {
  if (weight === 'stop') document.rect(x + 0.7, y + 0.7, 6.6, 6.6).fill(COLOUR.signal);
  else if (weight === 'look') {
    document.polygon([x + 4, y], [x + 8, y + 4], [x + 4, y + 8], [x, y + 4]).fill(COLOUR.signal);
  } else
    document
      .circle(x + 4, y + 4, 2.9)
      .lineWidth(1.3)
      .stroke(COLOUR.ink);
}

/** The house's mark: a block of leaves from the fore-edge, one of them left untrimmed. */
export function drawHouseMark(document: PDFKit.PDFDocument, x: number, y: number): void {
  document.lineWidth(0.9).strokeColor(COLOUR.faded);
  for (const offset of [0, 3, 6, 12, 15, 18])
    document
      .moveTo(x + offset, y + 6)
      .lineTo(x + offset, y + 20)
      .stroke();
  document.lineWidth(1.7).strokeColor(COLOUR.signal);
  document
    .moveTo(x + 9, y)
    .lineTo(x + 9, y + 20)
    .stroke();
}
