import PDFDocument from 'pdfkit';
import { MM_PER_INCH, PT_PER_INCH } from '../../src/model/index.ts';
import type { Box, Mm, Pt } from '../../src/model/index.ts';
import { pieceByFile, useFace } from './faces.ts';
import type { Ink, TextLine } from './spec.ts';

/** How a paragraph is set. */
export interface Setting {
  readonly face: string;
  readonly sizePt: Pt;
  readonly leadingPt: Pt;
  readonly ink: Ink;
  readonly align?: 'left' | 'right' | 'centre';
  /** Of the first line of each paragraph but the first. */
  readonly indentMm?: Mm;
}

export const MM_PER_PT = MM_PER_INCH / PT_PER_INCH;

// A document that is never written: pdfkit measures with the same shaping it prints with.
const ruler = new PDFDocument({ autoFirstPage: false });

/** Width of a line of type. */
export function widthMm(text: string, face: string, sizePt: Pt): Mm {
  return pieceByFile(text, face).reduce((sum, piece) => {
    useFace(ruler, piece.file).fontSize(sizePt);
    return sum + ruler.widthOfString(piece.text) * MM_PER_PT;
  }, 0);
}

/** One line, placed by the edge its alignment names. */
export function setLine(text: string, at: { x: Mm; baseline: Mm }, setting: Setting): TextLine {
  const width =
    setting.align === undefined || setting.align === 'left' ? 0 : widthMm(text, setting.face, setting.sizePt);
  const x = at.x - (setting.align === 'right' ? width : width / 2);
  return { text, x, baseline: at.baseline, face: setting.face, sizePt: setting.sizePt, ink: setting.ink };
}

/**
 * Paragraphs broken into lines, ragged right.
 *
 * @param box  the first baseline is one size under its top; its height only serves as a limit
 * @throws {Error} when the text does not fit: the designer has to cut it
 */
export function setParagraphs(paragraphs: readonly string[], box: Box, setting: Setting): readonly TextLine[] {
  const lines: TextLine[] = [];
  let baseline = box.y + setting.sizePt * MM_PER_PT;
  paragraphs.forEach((paragraph, index) => {
    let indent = index === 0 ? 0 : (setting.indentMm ?? 0);
    for (const text of breakLines(paragraph, box.width, indent, setting)) {
      const edge = setting.align === 'right' ? box.width : setting.align === 'centre' ? box.width / 2 : indent;
      lines.push(setLine(text, { x: box.x + edge, baseline }, setting));
      baseline += setting.leadingPt * MM_PER_PT;
      indent = 0;
    }
  });
  const over = baseline - setting.leadingPt * MM_PER_PT - (box.y + box.height);
  if (over > 0) throw new Error(`text runs over its box by ${over.toFixed(1)} mm: ${paragraphs[0]?.slice(0, 40)}`);
  return lines;
}

function breakLines(paragraph: string, width: Mm, indent: Mm, setting: Setting): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of paragraph.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    const room = lines.length === 0 ? width - indent : width;
    if (line !== '' && widthMm(longer, setting.face, setting.sizePt) > room) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}
