import type { Report } from '../../model/index.ts';
import { orderFindings } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import { FINDING_WORDS } from '../words/finding-words.ts';
import { placeWords } from '../words/place-words.ts';
import { COLOUR, MARGIN, MEASURE, openSection, requireRoom, setParagraph, STYLE, tagged } from './paper.ts';
import type { Paper } from './paper.ts';
import { breakLines, drawLines } from './type-setting.ts';

const HEIGHT = { tick: 12, between: 86, labels: 24 };
/** More numbers than this would lie on each other; the list below names every page. */
const MOST_LABELS = 16;

/** The two orders of the pages, with a line for each page and those out of order drawn strong. */
export function drawOrder(paper: Paper, report: Report, findings: readonly ReportedFinding[]): void {
  const about = orderFindings(findings);
  if (about.length === 0) return;
  requireRoom(paper, 225);
  if (paper.y > MARGIN.top) paper.y += 12;
  openSection(paper, 'Order of the pages');
  const top = paper.y + HEIGHT.labels;
  const foot = top + 2 * HEIGHT.tick + HEIGHT.between;
  setParagraph(paper, 'DUMMY', STYLE.term);
  tagged(paper, 'Figure', () => drawLinks(paper, report, about, top + 4), {
    alt: 'The dummy’s order above, the revision’s below, a line from each page to its place.',
  });
  paper.y = foot + HEIGHT.labels;
  setParagraph(paper, 'REVISION', STYLE.term, { after: 10 });
  for (const finding of about) {
    setParagraph(paper, `${FINDING_WORDS[finding.kind]}, ${placeWords(finding)}: ${finding.says}`, STYLE.quiet, {
      after: 2,
    });
  }
}

function drawLinks(paper: Paper, report: Report, about: readonly ReportedFinding[], top: number): void {
  const { document } = paper;
  const places = Math.max(report.dummy.pages, report.revision.pages, 1);
  const x = (page: number): number => MARGIN.left + ((page - 0.5) / places) * MEASURE;
  const line = (x1: number, y1: number, x2: number, y2: number): void => {
    document.moveTo(x1, y1).lineTo(x2, y2).stroke();
  };
  const above = top + HEIGHT.tick;
  const below = above + HEIGHT.between;
  const strong = new Set(about.map(({ dummyPage, revisionPage }) => `${dummyPage}/${revisionPage}`));

  for (const { dummyPage, revisionPage } of report.pages) {
    document.lineWidth(0.5).strokeColor(COLOUR.faded);
    if (dummyPage !== null) line(x(dummyPage), top, x(dummyPage), above);
    if (revisionPage !== null) line(x(revisionPage), below, x(revisionPage), below + HEIGHT.tick);
    if (dummyPage === null || revisionPage === null || strong.has(`${dummyPage}/${revisionPage}`)) continue;
    document.strokeColor(COLOUR.hairline);
    line(x(dummyPage), above, x(revisionPage), below);
  }
  for (const { kind, dummyPage, revisionPage } of about) {
    document.lineWidth(1.5).strokeColor(COLOUR.signal);
    if (dummyPage !== null) line(x(dummyPage), top - 3, x(dummyPage), above);
    if (revisionPage !== null) line(x(revisionPage), below, x(revisionPage), below + HEIGHT.tick + 3);
    if (kind === 'page-repeated') document.dash(4, { space: 3 });
    if (dummyPage !== null && revisionPage !== null) line(x(dummyPage), above, x(revisionPage), below);
    document.undash();
    if (revisionPage === null && dummyPage !== null) document.circle(x(dummyPage), above + 4, 2.4).stroke();
    if (dummyPage === null && revisionPage !== null) document.circle(x(revisionPage), below - 4, 2.4).stroke();
  }
  if (about.length > MOST_LABELS) return;
  for (const { dummyPage, revisionPage } of about) {
    if (dummyPage !== null) label(paper, `${dummyPage}`, x(dummyPage), top - 16);
    if (revisionPage !== null) label(paper, `${revisionPage}`, x(revisionPage), below + HEIGHT.tick + 3);
  }
}

function label(paper: Paper, text: string, middle: number, y: number): void {
  const style = { ...STYLE.quiet, sizePt: 8, colour: COLOUR.ink };
  drawLines(paper, breakLines(paper, text, style, 40), style, { x: middle - 20, y, align: 'centre', widthPt: 40 });
}
