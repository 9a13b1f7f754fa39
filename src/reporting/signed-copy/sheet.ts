import type { Pt } from '../../model/index.ts';
import { COLOUR, MARGIN, MEASURE, STYLE } from '../pdf/paper.ts';
import { drawHouseMark } from '../pdf/signs.ts';
import { breakLines, drawLines, LEADING } from '../pdf/type-setting.ts';
import type { Setter, Style } from '../pdf/type-setting.ts';

/** A4 in points. @source ISO 216 (210 x 297 mm) */
const A4: [number, number] = [595.28, 841.89];
const FOOT_PT: Pt = 36;
/** Where what a term says begins. */
const TERM_PT: Pt = 104;

/** Small type for hashes and what is said about them. */
export const SMALL: Style = { face: 'text', sizePt: 8, colour: COLOUR.ink };

/** Sheets behind a copy's pages while they are drawn. */
export interface Sheets extends Setter {
  /** Top of what comes next, in points from the head of the sheet. */
  y: number;
  count: number;
}

/** Begins the sheets with the house's mark and the name of what they are. */
export function openSheets(setter: Setter, kind: string): Sheets {
  const sheets: Sheets = { ...setter, y: 0, count: 0 };
  nextSheet(sheets);
  drawHouseMark(setter.document, MARGIN.left, MARGIN.top - 14);
  sheets.y = MARGIN.top - 8;
  say(sheets, `WITNESS LEAF \u00a0·\u00a0 ${kind}`, STYLE.term, { x: MARGIN.left + 28, after: 42 });
  return sheets;
}

/** Goes to a new sheet. */
export function nextSheet(sheets: Sheets): void {
  sheets.document.addPage({ size: A4, margin: 0 });
  sheets.count += 1;
  sheets.y = MARGIN.top;
}

/** Height that is left on the sheet, in points. */
export function roomLeft(sheets: Sheets): Pt {
  return A4[1] - MARGIN.foot - sheets.y;
}

/** Sets a paragraph; on a new sheet where it does not fit on this one. */
export function say(
  sheets: Sheets,
  text: string,
  style: Style,
  place: { readonly x?: Pt; readonly widthPt?: Pt; readonly after?: Pt } = {},
): void {
  const { x = MARGIN.left, after = 0 } = place;
  const { widthPt = MEASURE - (x - MARGIN.left) } = place;
  const step = style.sizePt * LEADING;
  for (const line of breakLines(sheets, text, style, widthPt)) {
    if (roomLeft(sheets) < step) nextSheet(sheets);
    drawLines(sheets, [line], style, { x, y: sheets.y });
    sheets.y += step;
  }
  sheets.y += after;
}

/** Sets a term in the margin column, and beside it what it says: the first paragraph in ink, those after it quiet. */
export function sayTerm(sheets: Sheets, term: string, paragraphs: readonly string[], style: Style = SMALL): void {
  if (roomLeft(sheets) < 40) nextSheet(sheets);
  drawRule(sheets);
  const top = sheets.y;
  const before = sheets.count;
  say(sheets, term, STYLE.term, { widthPt: TERM_PT - 8 });
  if (sheets.count === before) sheets.y = top - 1;
  for (const [place, text] of paragraphs.entries()) {
    say(sheets, text, place === 0 ? style : { ...style, colour: COLOUR.faded }, { x: MARGIN.left + TERM_PT, after: 1 });
  }
  sheets.y += 6;
}

/** A hairline over the measure. */
export function drawRule(sheets: Sheets): void {
  const { document, y } = sheets;
  document.lineWidth(0.5).strokeColor(COLOUR.hairline);
  document
    .moveTo(MARGIN.left, y)
    .lineTo(MARGIN.left + MEASURE, y)
    .stroke();
  sheets.y = y + 5;
}

/** Numbers the sheets, which are the last ones of the document, and names the copy on each. */
export function closeSheets(sheets: Sheets, running: string): void {
  const { document, count } = sheets;
  const { start, count: all } = document.bufferedPageRange();
  for (let sheet = 1; sheet <= count; sheet += 1) {
    document.switchToPage(start + all - count + sheet - 1);
    const y = A4[1] - FOOT_PT;
    const [name] = breakLines(sheets, running, STYLE.quiet, MEASURE - 80);
    if (name !== undefined) drawLines(sheets, [name], STYLE.quiet, { x: MARGIN.left, y });
    const folio = breakLines(sheets, `sheet ${sheet} of ${count}`, STYLE.quiet, 80);
    drawLines(sheets, folio, STYLE.quiet, { x: MARGIN.left, y, align: 'right', widthPt: MEASURE });
  }
}
