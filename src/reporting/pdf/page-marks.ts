import type { Box, PagePoint } from '../../model/index.ts';
import type { DrawnMark } from '../pictures/drawn-marks.ts';
import { COLOUR } from './paper.ts';
import type { Paper } from './paper.ts';
import type { PtBox } from './picture-stock.ts';
import { drawLines, measure } from './type-setting.ts';
import type { Style } from './type-setting.ts';

const LABEL: Style = { face: 'strong', sizePt: 7.5, colour: COLOUR.ink };

/** Draws the marks of a finding over a picture of a region, as vectors; they do not reach beyond the picture. */
export function drawPageMarks(paper: Paper, marks: readonly DrawnMark[], region: Box, picture: PtBox): void {
  const { document } = paper;
  const scale = picture.width / region.width;
  const at = ({ x, y }: PagePoint): PagePoint => ({
    x: picture.x + (x - region.x) * scale,
    y: picture.y + (y - region.y) * scale,
  });
  document.save().rect(picture.x, picture.y, picture.width, picture.height).clip();
  for (const mark of marks) {
    switch (mark.shape) {
      case 'box': {
        const { x, y } = at(mark.box);
        const sides = [x, y, mark.box.width * scale, mark.box.height * scale] as const;
        document
          .lineWidth(2.6)
          .rect(...sides)
          .stroke(COLOUR.leaf);
        document
          .lineWidth(1.1)
          .rect(...sides)
          .stroke(COLOUR.signal);
        break;
      }
      case 'band': {
        const { x, y } = at(mark.box);
        document
          .rect(x, y, mark.box.width * scale, mark.box.height * scale)
          .fillOpacity(0.72)
          .fill(COLOUR.signal);
        document.fillOpacity(1);
        break;
      }
      case 'arrow':
        for (const [width, colour] of [
          [3.6, COLOUR.leaf],
          [1.6, COLOUR.signal],
        ] as const) {
          drawArrow(document, at(mark.from), at(mark.to), width, colour);
        }
        break;
    }
  }
  document.restore();
  for (const mark of marks) {
    if (mark.shape === 'band') drawLabel(paper, mark.label, at(mark.at), picture);
    if (mark.shape === 'arrow') drawLabel(paper, mark.label, { x: at(mark.to).x, y: at(mark.to).y + 12 }, picture);
  }
}

function drawArrow(document: PDFKit.PDFDocument, from: PagePoint, to: PagePoint, width: number, colour: string): void {
  const angle = Math.atan2(to.y - from.y, to.x - from.x);
  const barb = (turn: number): [number, number] => [
    to.x - 6 * Math.cos(angle + turn),
    to.y - 6 * Math.sin(angle + turn),
  ];
  document.lineWidth(width).lineCap('round').lineJoin('round').strokeColor(colour);
  document.moveTo(from.x, from.y).lineTo(to.x, to.y).stroke();
  document
    .moveTo(...barb(0.5))
    .lineTo(to.x, to.y)
    .lineTo(...barb(-0.5))
    .stroke();
  document.lineCap('butt').lineJoin('miter');
}

/** A measure on a slip of paper, kept within the picture. */
function drawLabel(paper: Paper, text: string, middle: PagePoint, picture: PtBox): void {
  const width = measure(paper, text, LABEL) + 6;
  const height = 11;
  const left = clamp(middle.x - width / 2, picture.x, picture.x + picture.width - width);
  const top = clamp(middle.y - height / 2, picture.y, picture.y + picture.height - height);
  paper.document.rect(left, top, width, height).fillOpacity(0.88).fill(COLOUR.leaf);
  paper.document.fillOpacity(1);
  const line = { runs: paper.fonts.runsOf(text, LABEL.face), width: width - 6 };
  drawLines(paper, [line], LABEL, { x: left + 3, y: top + 0.6 });
}

function clamp(value: number, least: number, most: number): number {
  return Math.max(least, Math.min(value, Math.max(least, most)));
}
