import { isOfPlateOn } from '../../model/index.ts';
import type { Report } from '../../model/index.ts';
import { heaviest } from '../page-order.ts';
import { FINDING_WORDS } from '../words/finding-words.ts';
import { cellName, planSentence, sideName, sideSource } from '../words/sheet-words.ts';
import type { BookContent } from './book-sheets.ts';
import { COLOUR, MARGIN, MEASURE, openSection, requireRoom, setParagraph, STYLE, tagged } from './paper.ts';
import type { Paper } from './paper.ts';
import { drawPlates } from './plates-list.ts';
import { breakLines, drawLines } from './type-setting.ts';
import type { Style } from './type-setting.ts';

const CELL: Style = { face: 'text', sizePt: 8, colour: COLOUR.ink };

/** Every side of imposed sheets with its cells; nothing where the revision is no sheets. */
export function drawSideSheets(paper: Paper, content: BookContent): void {
  const { sheets } = content.report;
  if (sheets === undefined) return;
  openSection(paper, 'The sheets');
  const lead = `${planSentence(sheets)} Each cell has the page that belongs there. Register on the press and the fold itself are not seen.`;
  setParagraph(paper, lead, STYLE.quiet, { widthPt: 380, after: 16 });
  sheets.sides.forEach((side, index) => {
    const high = (MEASURE * side.height) / side.width;
    const told = content.findings.filter((finding) => isOfPlateOn(finding, side));
    requireRoom(paper, high + 30 + 16 * told.length);
    setParagraph(paper, `${sideName(side)}, ${sideSource({ sheets, side })}`, STYLE.term, { after: 4 });
    for (const { kind, weight } of told) {
      setParagraph(paper, `${weight}: ${FINDING_WORDS[kind].toLowerCase()}`, STYLE.strong, { after: 4 });
    }
    tagged(paper, 'Figure', () => drawSide(paper, content, { side, index, high }), {
      alt: `${sideName(side)}: ${side.cells.map(cellName).join(' ')}`,
    });
    paper.y += high + 18;
  });
  drawPlates(paper, sheets);
}

interface Placed {
  readonly side: NonNullable<Report['sheets']>['sides'][number];
  readonly index: number;
  readonly high: number;
}

function drawSide(paper: Paper, { exhibits, findings, stock }: BookContent, { side, index, high }: Placed): void {
  const { document, y: top } = paper;
  const scale = MEASURE / side.width;
  const shot = exhibits.sides[index]?.shot ?? null;
  if (shot !== null) stock.place(document, shot, { x: MARGIN.left, y: top, width: MEASURE, height: high });
  document.lineWidth(0.5).rect(MARGIN.left, top, MEASURE, high).stroke(COLOUR.hairline);
  for (const { box, page, ...cell } of side.cells) {
    const own = findings.filter(
      ({ dummyPage, revisionPage }) => page !== null && [dummyPage, revisionPage].includes(page),
    );
    const weight = heaviest(own);
    const [x, y] = [MARGIN.left + box.x * scale, top + box.y * scale];
    document
      .lineWidth(weight === null ? 0.5 : 1.5)
      .rect(x, y, box.width * scale, box.height * scale)
      .stroke(weight === null ? COLOUR.faded : COLOUR.signal);
    const name = `${cellName({ page, ...cell })}${weight === null ? '' : ` ${weight}`}`;
    const lines = breakLines(paper, name, CELL, 80);
    document.rect(x + 2, y + 2, document.widthOfString(name) + 6, 12).fill('#ffffff');
    drawLines(paper, lines, CELL, { x: x + 5, y: y + 3 });
  }
}
