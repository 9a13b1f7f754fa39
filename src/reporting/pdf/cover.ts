import type { FileIdentity, Report, Weight } from '../../model/index.ts';
import { findingsAt, heaviest } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { ReportSubject } from '../report-subject.ts';
import { WEIGHTS, WEIGHT_WORDS } from '../words/finding-words.ts';
import { formatBytes, formatCount } from '../words/figures.ts';
import { conversionSentence, countWeights, verdictSentence } from '../words/verdict-words.ts';
import { COLOUR, MARGIN, MEASURE, ornament, setParagraph, STYLE, tagged } from './paper.ts';
import type { Paper } from './paper.ts';
import { drawHouseMark, drawWeightSign } from './signs.ts';
import { breakLines, drawLines } from './type-setting.ts';

/** The first sheet: what was compared, the verdict, the counts, and where the report's word ends. */
export function drawCover(paper: Paper, subject: ReportSubject, findings: readonly ReportedFinding[]): void {
  const { document } = paper;
  const { report, names } = subject;
  document.outline.addItem('Summary');
  ornament(paper, () => drawHouseMark(document, MARGIN.left, MARGIN.top - 14));
  paper.y = MARGIN.top - 8;
  setParagraph(paper, 'WITNESS LEAF', STYLE.term, { x: MARGIN.left + 28, after: 58 });
  setParagraph(paper, names.revision, STYLE.title, { type: 'H1', after: 2 });
  setParagraph(paper, `against the dummy ${names.dummy}`, STYLE.subtitle, { after: 18 });
  setParagraph(paper, verdictSentence(report), STYLE.verdict, { widthPt: 400, after: 26 });
  drawForeEdge(paper, report, findings);
  drawCounts(paper, report);
  paper.y += 14;
  drawFile(paper, 'DUMMY', report.dummy);
  drawFile(paper, 'REVISION', report.revision);
  const conversion = conversionSentence(report);
  if (conversion !== null) setParagraph(paper, conversion, STYLE.quiet, { after: 4 });
  setParagraph(paper, `Pages drawn by ${report.renderer}.`, STYLE.quiet, { after: 4 });
  if (subject.madeAt !== undefined) {
    setParagraph(paper, `Made ${subject.madeAt.toISOString().slice(0, 16).replace('T', ' ')} UTC.`, STYLE.quiet);
  }
  paper.y += 16;
  rule(paper);
  setParagraph(paper, 'WHERE THIS REPORT’S WORD ENDS', STYLE.term, { type: 'H2', after: 3 });
  for (const caution of report.cautions) setParagraph(paper, caution, STYLE.quiet, { after: 2 });
}

const STANDS_OUT_PT: Readonly<Record<Weight, number>> = { stop: 18, look: 11, note: 5 };

function drawForeEdge(paper: Paper, report: Report, findings: readonly ReportedFinding[]): void {
  const { document } = paper;
  const width = Math.min(MEASURE, report.pages.length * 9);
  const foot = paper.y + 44;
  const alt = `The book from its fore-edge: ${formatCount(report.pages.length, 'leaf', 'leaves')}; those with findings stand out.`;
  tagged(
    paper,
    'Figure',
    () => {
      report.pages.forEach((pair, place) => {
        const weight = heaviest(findingsAt(findings, pair));
        const x = MARGIN.left + ((place + 0.5) / report.pages.length) * width;
        document.lineWidth(weight === null ? 0.5 : weight === 'note' ? 1 : weight === 'look' ? 1.4 : 2);
        document.strokeColor(weight === null ? COLOUR.faded : weight === 'note' ? COLOUR.ink : COLOUR.signal);
        if (pair.state === 'missing') document.dash(2.5, { space: 2 });
        document
          .moveTo(x, foot - 24 - (weight === null ? 0 : STANDS_OUT_PT[weight]))
          .lineTo(x, foot)
          .stroke();
        document.undash();
      });
      document
        .lineWidth(0.6)
        .strokeColor(COLOUR.ink)
        .moveTo(MARGIN.left, foot)
        .lineTo(MARGIN.left + width, foot)
        .stroke();
    },
    { alt },
  );
  paper.y = foot + 26;
}

function drawCounts(paper: Paper, report: Report): void {
  const counts = countWeights(report);
  for (const weight of WEIGHTS) {
    rule(paper);
    const { y } = paper;
    ornament(paper, () => drawWeightSign(paper.document, weight, MARGIN.left + 26, y + 4.5));
    tagged(paper, 'P', () => {
      const count = breakLines(paper, `${counts[weight]}`, STYLE.subtitle, 40);
      drawLines(paper, count, STYLE.subtitle, { x: MARGIN.left, y: y - 1, align: 'right', widthPt: 20 });
      drawLines(paper, breakLines(paper, weight, STYLE.strong, 60), STYLE.strong, { x: MARGIN.left + 40, y: y + 2.5 });
      const means = breakLines(paper, WEIGHT_WORDS[weight], STYLE.quiet, 300);
      drawLines(paper, means, STYLE.quiet, { x: MARGIN.left + 80, y: y + 2.9 });
    });
    paper.y = y + 21;
  }
}

function drawFile(paper: Paper, name: string, { sha256, bytes, pages }: FileIdentity): void {
  rule(paper);
  const { y } = paper;
  setParagraph(paper, name, STYLE.term);
  paper.y = y;
  const column = { x: MARGIN.left + 80, widthPt: MEASURE - 80 };
  setParagraph(paper, `${formatCount(pages, 'page')}, ${formatBytes(bytes)}`, STYLE.quiet, column);
  setParagraph(paper, `SHA-256 ${sha256}`, STYLE.quiet, { ...column, after: 6 });
}

function rule(paper: Paper): void {
  const { y } = paper;
  ornament(paper, () => {
    paper.document.lineWidth(0.5).strokeColor(COLOUR.hairline);
    paper.document
      .moveTo(MARGIN.left, y)
      .lineTo(MARGIN.left + MEASURE, y)
      .stroke();
  });
  paper.y = y + 4;
}
