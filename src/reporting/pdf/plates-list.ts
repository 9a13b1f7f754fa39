import type { ReportSheets } from '../../model/index.ts';
import { inkName, screenWords, sideName, spotSentence } from '../words/sheet-words.ts';
import { MARGIN, requireRoom, setParagraph, STYLE, within } from './paper.ts';
import type { Paper } from './paper.ts';

/** A plate's three lines. */
const PLATE_PT = 40;

/** Every plate with its ink, its file and what was seen of it; nothing where the sheets came as pages. */
export function drawPlates(paper: Paper, sheets: ReportSheets): void {
  const { separations = [] } = sheets;
  if (separations.length === 0) return;
  const spots = spotSentence(sheets);
  requireRoom(paper, 60 + PLATE_PT);
  setParagraph(paper, 'The plates', STYLE.heading, { type: 'H3', after: 4 });
  const lead =
    'Each as it was sent, under the side and the ink that it was taken for. The share of paper that it covers is of the whole plate; a ruling is an estimate.';
  setParagraph(paper, spots === null ? lead : `${lead} ${spots}`, STYLE.quiet, { widthPt: 380, after: 10 });
  for (const plate of separations) {
    const { ink, file, sha256, width, height, ppi, coveragePercent } = plate;
    const size = `${width.toFixed(1)} × ${height.toFixed(1)} mm at ${ppi.toFixed(0)} ppi`;
    requireRoom(paper, PLATE_PT);
    within(paper, 'Sect', () => {
      setParagraph(paper, `${sideName(plate)}, ${inkName(ink)}: ${file}`, STYLE.strong);
      const facts = `${size}; ${coveragePercent.toFixed(1)} % covered; ${screenWords(plate)}`;
      setParagraph(paper, facts, STYLE.quiet, { x: MARGIN.left + 12 });
      setParagraph(paper, `SHA-256 ${sha256}`, STYLE.term, { x: MARGIN.left + 12, after: 6 });
    });
  }
  paper.y += 18;
}
