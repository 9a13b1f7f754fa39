import type { Box } from '../../model/index.ts';
import type { ReportedFinding } from '../page-order.ts';
import { drawnMarks } from '../pictures/drawn-marks.ts';
import { EXHIBIT_KINDS } from '../pictures/exhibit-kinds.ts';
import type { Exhibit, Shot } from '../pictures/exhibit.ts';
import { FINDING_WORDS } from '../words/finding-words.ts';
import { keepUnits } from '../words/figures.ts';
import { measuredFigures } from '../words/measured-words.ts';
import { placeWords } from '../words/place-words.ts';
import { findingPlace } from './finding-table.ts';
import { drawPageMarks } from './page-marks.ts';
import { COLOUR, MARGIN, MEASURE, ornament, requireRoom, setParagraph, STYLE, tagged, within } from './paper.ts';
import type { Paper } from './paper.ts';
import type { PictureStock, PtBox } from './picture-stock.ts';
import { drawWeightSign } from './signs.ts';
import { breakLines, drawLines, LEADING, measure } from './type-setting.ts';
import type { SetLine } from './type-setting.ts';

const GAP = 12;
const COLUMN = (MEASURE - 2 * GAP) / 3;
/** Pictures stand three in a row; none is higher than this, so that two findings always fit a sheet. */
const MOST_HIGH = 200;
const CAPTION = 24;
const VALUE = { ...STYLE.text, sizePt: 9.5 };

/** One finding on paper: its sentence, both sides, the difference and the figures; kept together on one sheet. */
export function drawFinding(
  paper: Paper,
  finding: ReportedFinding,
  number: number,
  pictures: { readonly exhibit: Exhibit | null; readonly stock: PictureStock },
  outline: PDFKit.PDFOutline,
): void {
  const { exhibit, stock } = pictures;
  const says = breakLines(paper, keepUnits(finding.says), STYLE.text, MEASURE - 30);
  const layout = layOut(paper, finding, exhibit);
  requireRoom(paper, 36 + says.length * STYLE.text.sizePt * LEADING + layout.height);

  within(paper, 'Sect', () => {
    drawHead(paper, finding, number);
    outline.addItem(`${number}  ${FINDING_WORDS[finding.kind]}`);
    paper.document.addNamedDestination(findingPlace(number), 'XYZ', 0, paper.y - 30, null);
    setParagraph(paper, keepUnits(finding.says), STYLE.text, { x: MARGIN.left + 30, widthPt: MEASURE - 30, after: 8 });
    drawRow(paper, finding, layout, stock);
  });
  paper.y += 18;
}

function drawHead(paper: Paper, finding: ReportedFinding, number: number): void {
  const { document, y } = paper;
  ornament(paper, () => {
    document.lineWidth(0.5).strokeColor(COLOUR.hairline);
    document
      .moveTo(MARGIN.left, y)
      .lineTo(MARGIN.left + MEASURE, y)
      .stroke();
    drawWeightSign(document, finding.weight, MARGIN.left + MEASURE - 8, y + 11);
  });
  const title = `${FINDING_WORDS[finding.kind]} `;
  tagged(paper, 'H3', () => {
    const numeral = breakLines(paper, `${number}`, { ...STYLE.heading, colour: COLOUR.faded }, 30);
    drawLines(paper, numeral, { ...STYLE.heading, colour: COLOUR.faded }, { x: MARGIN.left, y: y + 6 });
    drawLines(paper, breakLines(paper, title, STYLE.heading, 300), STYLE.heading, { x: MARGIN.left + 30, y: y + 6 });
    const x = MARGIN.left + 30 + measure(paper, title, STYLE.heading) + 3;
    drawLines(paper, breakLines(paper, placeWords(finding), STYLE.place, 300), STYLE.place, { x, y: y + 6 });
  });
  tagged(paper, 'P', () => {
    const words = breakLines(paper, finding.weight, STYLE.strong, 80);
    drawLines(paper, words, STYLE.strong, {
      x: MARGIN.left,
      y: y + 8.5,
      align: 'right',
      widthPt: MEASURE - 13,
    });
  });
  paper.y = y + 28;
}

interface Plate {
  readonly shot: Shot;
  readonly caption: string;
  readonly side: 'dummy' | 'revision' | null;
}

/** What stands in a finding's row, measured before it is drawn; sizes in points. */
interface Layout {
  readonly region: Box;
  readonly plates: readonly Plate[];
  readonly size: { readonly width: number; readonly height: number };
  readonly cells: readonly Cell[];
  /** Columns left of the figures: they stand beside up to two pictures, and below three. */
  readonly taken: number;
  readonly height: number;
}

interface Cell {
  readonly term: string;
  readonly lines: readonly SetLine[];
}

function layOut(paper: Paper, finding: ReportedFinding, exhibit: Exhibit | null): Layout {
  const region = exhibit?.region ?? { x: 0, y: 0, width: 1, height: 1 };
  const plates = exhibit === null ? [] : platesOf(finding, exhibit);
  const scale = Math.min(COLUMN / region.width, MOST_HIGH / region.height);
  const size = { width: region.width * scale, height: region.height * scale };
  const cells = measuredFigures(finding).map(({ term, value }) => ({
    term,
    lines: breakLines(paper, keepUnits(value), VALUE, COLUMN),
  }));
  const taken = plates.length % 3;
  const pictures = plates.length === 0 ? 0 : size.height + CAPTION;
  const figures = rowHeights(cells, 3 - taken).reduce((sum, height) => sum + height, 0);
  return { region, plates, size, cells, taken, height: taken === 0 ? pictures + figures : Math.max(pictures, figures) };
}

function platesOf(finding: ReportedFinding, { dummy, revision, difference }: Exhibit): readonly Plate[] {
  const how = EXHIBIT_KINDS[finding.kind].difference === 'as-is' ? 'colours as they stand' : 'tone evened out';
  return [
    ...(dummy === null
      ? []
      : [{ shot: dummy, caption: `Dummy, page ${finding.dummyPage ?? ''}`, side: 'dummy' as const }]),
    ...(revision === null
      ? []
      : [{ shot: revision, caption: `Revision, page ${finding.revisionPage ?? ''}`, side: 'revision' as const }]),
    ...(difference === null ? [] : [{ shot: difference, caption: `Difference, ${how}`, side: null }]),
  ];
}

function drawRow(paper: Paper, finding: ReportedFinding, layout: Layout, stock: PictureStock): void {
  const { y } = paper;
  layout.plates.forEach((plate, index) => {
    const box: PtBox = { x: MARGIN.left + index * (COLUMN + GAP), y, ...layout.size };
    const draw = (): void => {
      stock.place(paper.document, plate.shot, box);
      if (plate.side !== null) drawPageMarks(paper, drawnMarks(finding, plate.side, layout.region), layout.region, box);
      paper.document.lineWidth(0.5).rect(box.x, box.y, box.width, box.height).stroke(COLOUR.hairline);
    };
    tagged(paper, 'Figure', draw, { alt: `${plate.caption}: what is described above` });
    tagged(paper, 'Caption', () => {
      const caption = breakLines(paper, plate.caption, STYLE.quiet, COLUMN).slice(0, 1);
      drawLines(paper, caption, STYLE.quiet, { x: box.x, y: box.y + box.height + 2 });
    });
  });
  const below = layout.taken === 0 && layout.plates.length > 0 ? layout.size.height + CAPTION : 0;
  drawFigures(paper, layout, y + below);
  paper.y = y + layout.height;
}

function drawFigures(paper: Paper, { cells, taken }: Layout, top: number): void {
  const columns = 3 - taken;
  const heights = rowHeights(cells, columns);
  cells.forEach(({ term, lines }, index) => {
    const row = Math.floor(index / columns);
    const x = MARGIN.left + (taken + (index % columns)) * (COLUMN + GAP);
    const y = top + heights.slice(0, row).reduce((sum, height) => sum + height, 0);
    tagged(paper, 'P', () => {
      drawLines(paper, breakLines(paper, term.toUpperCase(), STYLE.term, COLUMN).slice(0, 1), STYLE.term, { x, y });
      drawLines(paper, lines, VALUE, { x, y: y + 10 });
    });
  });
}

/** The height of each row of figures, in points: its longest value with its term. */
function rowHeights(cells: readonly Cell[], columns: number): readonly number[] {
  const rows = Array.from({ length: Math.ceil(cells.length / columns) }, (_, row) =>
    cells.slice(row * columns, (row + 1) * columns),
  );
  return rows.map((row) => Math.max(...row.map(({ lines }) => lines.length)) * VALUE.sizePt * LEADING + 17);
}
