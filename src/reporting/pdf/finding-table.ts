import type { ReportedFinding } from '../page-order.ts';
import { FINDING_WORDS } from '../words/finding-words.ts';
import { placeWords } from '../words/place-words.ts';
import {
  COLOUR,
  MARGIN,
  MEASURE,
  openSection,
  ornament,
  requireRoom,
  setParagraph,
  STYLE,
  tagged,
  within,
} from './paper.ts';
import type { Paper } from './paper.ts';
import { drawWeightSign } from './signs.ts';
import { breakLines, drawLines, LEADING } from './type-setting.ts';
import type { Style } from './type-setting.ts';

const CELL: Style = { face: 'text', sizePt: 9, colour: COLOUR.ink };
const COLUMNS = [
  { title: 'NO.', x: 0, width: 24 },
  { title: 'WEIGHT', x: 28, width: 44 },
  { title: 'WHERE', x: 76, width: 92 },
  { title: 'WHAT', x: 174, width: MEASURE - 174 },
] as const;

/** The name of the place in the file where a finding is shown. */
export function findingPlace(number: number): string {
  return `finding-${number}`;
}

/** All findings in page order, one row each; a click leads to its pictures. */
export function drawFindingTable(paper: Paper, findings: readonly ReportedFinding[]): void {
  if (paper.y > MARGIN.top) paper.y += 12;
  openSection(paper, 'Findings');
  if (findings.length === 0) {
    setParagraph(paper, 'Nothing was found. Every page shows what the dummy shows.', STYLE.text);
    return;
  }
  within(paper, 'Table', () => {
    drawRow(
      paper,
      'TH',
      COLUMNS.map(({ title }) => ({ text: title, style: STYLE.term })),
    );
    findings.forEach((finding, index) => {
      const cells = [
        { text: `${index + 1}`, style: CELL },
        { text: finding.weight, style: { ...CELL, face: 'strong' as const } },
        { text: placeWords(finding), style: CELL },
        { text: `${FINDING_WORDS[finding.kind]}. ${finding.says}`, style: CELL },
      ];
      const { top, height } = drawRow(paper, 'TD', cells, finding);
      paper.document.goTo(MARGIN.left, top, MEASURE, height, findingPlace(index + 1));
    });
  });
  paper.y += 30;
}

function drawRow(
  paper: Paper,
  type: 'TH' | 'TD',
  cells: readonly { readonly text: string; readonly style: Style }[],
  finding?: ReportedFinding,
): { readonly top: number; readonly height: number } {
  const set = cells.map(({ text, style }, index) => {
    const width = (COLUMNS[index]?.width ?? 0) - (finding !== undefined && index === 1 ? 12 : 0);
    return { style, lines: breakLines(paper, text, style, width) };
  });
  const height = Math.max(...set.map(({ style, lines }) => lines.length * style.sizePt * LEADING)) + 7;
  requireRoom(paper, height);
  const top = paper.y;
  within(paper, 'TR', () => {
    set.forEach(({ style, lines }, index) => {
      const x = MARGIN.left + (COLUMNS[index]?.x ?? 0) + (finding !== undefined && index === 1 ? 12 : 0);
      tagged(paper, type, () => {
        drawLines(paper, lines, style, { x, y: top + 3 });
      });
    });
  });
  ornament(paper, () => {
    if (finding !== undefined) drawWeightSign(paper.document, finding.weight, MARGIN.left + 28, top + 5.5);
    paper.document.lineWidth(0.5).strokeColor(COLOUR.hairline);
    paper.document
      .moveTo(MARGIN.left, top + height)
      .lineTo(MARGIN.left + MEASURE, top + height)
      .stroke();
  });
  paper.y = top + height;
  return { top, height };
}
