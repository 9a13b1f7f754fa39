import { COLOUR, MARGIN, MEASURE, STYLE } from '../pdf/paper.ts';
import type { Setter } from '../pdf/type-setting.ts';
import { formatBytes, formatCount } from '../words/figures.ts';
import { COPY_CAUTIONS } from './certificate-sheet.ts';
import type { CopyOrder } from './copy-order.ts';
import { drawHashTable } from './hash-table.ts';
import { closeSheets, openSheets, say, sayTerm, SMALL } from './sheet.ts';
import type { Sheets } from './sheet.ts';
import { FOR_PARTY, longDate } from './slug-words.ts';

const GUTTER_PT = 28;
const LINE_PT = 40;

/** Draws the last sheets of a print copy: what is signed, room for both signatures in ink, and the hashes. Gives their number. */
export function drawInkSheet(setter: Setter, order: CopyOrder): number {
  const { title, part, file, fileName, at } = order;
  const sheets = openSheets(setter, 'PRINT COPY, FOR SIGNATURES IN INK');
  const pages = formatCount(file.pages.length, 'page');
  say(sheets, title, STYLE.title, { after: 2 });
  say(sheets, `${part}, ${pages}, printed copy of ${longDate(at)}`, STYLE.subtitle, { after: 18 });
  say(
    sheets,
    `We take these ${pages}, in this order, as the signed dummy of the part “${part}”. Each page carries outside its trim the first digits of the content hash that is listed below; later files of the part are held against it, page by page.`,
    STYLE.text,
    { after: 10 },
  );
  drawInkLines(sheets);
  sayTerm(sheets, 'THE FILE', [
    fileName,
    `${pages}, ${formatBytes(file.bytes)} (${file.bytes} bytes)`,
    `SHA-256 ${file.sha256}`,
  ]);
  sayTerm(sheets, 'THIS COPY', [
    'Made for printing, without signatures and without a seal. The trimmed pages are those of the file.',
  ]);
  const [, binds = '', colour = ''] = COPY_CAUTIONS;
  sayTerm(sheets, 'WHERE ITS WORD ENDS', [binds, colour], { ...SMALL, colour: COLOUR.faded });
  drawHashTable(
    sheets,
    file.pages,
    'SHA-256 of what each page of the file draws, in the form witnessleaf-page/1. The line in the slug counts as drawn, so the pages of this copy have other hashes.',
  );
  closeSheets(sheets, `Print copy · ${title} · ${part}`);
  return sheets.count;
}

/** Two columns, one for each party: name, place and day, signature. */
function drawInkLines(sheets: Sheets): void {
  const { document } = sheets;
  const width = (MEASURE - GUTTER_PT) / 2;
  const top = sheets.y;
  (['publisher', 'printer'] as const).forEach((party, column) => {
    const x = MARGIN.left + column * (width + GUTTER_PT);
    sheets.y = top;
    say(sheets, FOR_PARTY[party].toUpperCase(), STYLE.term, { x, widthPt: width });
    for (const what of ['Name and firm', 'Place and day', 'Signature']) {
      sheets.y += LINE_PT - (what === 'Signature' ? 4 : 12);
      document.lineWidth(0.6).strokeColor(COLOUR.ink);
      document
        .moveTo(x, sheets.y)
        .lineTo(x + width, sheets.y)
        .stroke();
      sheets.y += 2;
      say(sheets, what, { ...SMALL, sizePt: 7, colour: COLOUR.faded }, { x, widthPt: width });
    }
  });
  sheets.y += 18;
}
