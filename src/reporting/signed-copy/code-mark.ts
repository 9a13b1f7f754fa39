import { create } from 'qrcode';
import type { Pt } from '../../model/index.ts';

/** Black ink and nothing else: small type in four inks blurs where they do not meet. */
export const BLACK: [number, number, number, number] = [0, 0, 0, 100];

/**
 * Draws a QR code of a text as one path, its top left corner at x, y; without the quiet zone, which is 4 modules.
 *
 * @source ISO/IEC 18004 6.3.8 for the quiet zone, from memory; read back by an outside program in the tests
 */
export function drawCode(document: PDFKit.PDFDocument, text: string, x: Pt, y: Pt, sizePt: Pt): void {
  const { modules } = create([{ data: new TextEncoder().encode(text), mode: 'byte' }], { errorCorrectionLevel: 'M' });
  document.save();
  document.translate(x, y).scale(sizePt / modules.size);
  for (let row = 0; row < modules.size; row += 1) {
    let from = 0;
    while (from < modules.size) {
      let to = from;
      while (to < modules.size && modules.get(row, to) !== 0) to += 1;
      if (to > from) document.rect(from, row, to - from, 1);
      from = to + 1;
    }
  }
  document.fill(BLACK);
  document.restore();
}
