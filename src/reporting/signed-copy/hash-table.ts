import type { Pt, Sha256 } from '../../model/index.ts';
import { COLOUR, MARGIN, MEASURE, STYLE } from '../pdf/paper.ts';
import { breakLines, drawLines } from '../pdf/type-setting.ts';
import type { Style } from '../pdf/type-setting.ts';
import { drawRule, nextSheet, roomLeft, say, SMALL } from './sheet.ts';
import type { Sheets } from './sheet.ts';

const FIGURES: Style = { face: 'text', sizePt: 5.8, colour: COLOUR.ink };
const STEP_PT: Pt = 8.6;
const COLUMNS = 2;
const GUTTER_PT: Pt = 14;
const NUMBER_PT: Pt = 18;
const EYE_REST = 5;
/** What the heading takes. */
const HEAD_PT: Pt = 52;

/**
 * Lists the content hash of each page, down one column and then the next; every fifth line is set off. A list that does
 * not end on this sheet begins on a new one.
 */
export function drawHashTable(sheets: Sheets, pages: readonly Sha256[], says: string): void {
  sheets.y += 10;
  if (rowsIn(roomLeft(sheets) - HEAD_PT) * COLUMNS < pages.length) nextSheet(sheets);
  drawRule(sheets);
  say(sheets, 'CONTENT HASH OF EACH PAGE', STYLE.term, { after: 2 });
  say(sheets, says, SMALL, { after: 8 });
  const columnPt = (MEASURE - GUTTER_PT * (COLUMNS - 1)) / COLUMNS;
  for (let done = 0; done < pages.length;) {
    if (done > 0) nextSheet(sheets);
    const left = pages.length - done;
    const rows = Math.min(rowsIn(roomLeft(sheets)), Math.max(EYE_REST, Math.ceil(left / COLUMNS)));
    const top = sheets.y;
    pages.slice(done, done + rows * COLUMNS).forEach((hash, place) => {
      const row = place % rows;
      const x = MARGIN.left + Math.floor(place / rows) * (columnPt + GUTTER_PT);
      const y = top + row * STEP_PT + Math.floor(row / EYE_REST) * (STEP_PT / 2);
      const number = breakLines(sheets, `${done + place + 1}`, FIGURES, NUMBER_PT);
      drawLines(sheets, number, { ...FIGURES, colour: COLOUR.faded }, { x, y, align: 'right', widthPt: NUMBER_PT - 6 });
      hash.match(/.{1,16}/g)?.forEach((digits, group) => {
        const at = x + NUMBER_PT + (group * (columnPt - NUMBER_PT)) / 4;
        drawLines(sheets, breakLines(sheets, digits, FIGURES, columnPt), FIGURES, { x: at, y });
      });
    });
    done += rows * COLUMNS;
    sheets.y = top + rows * STEP_PT + Math.ceil(rows / EYE_REST) * (STEP_PT / 2);
  }
}

function rowsIn(heightPt: Pt): number {
  return Math.max(1, Math.floor(heightPt / (STEP_PT * (1 + 0.5 / EYE_REST))) - 1);
}
