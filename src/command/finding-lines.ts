import type { Report } from '../model/index.ts';
import { FINDING_WORDS, inPageOrder, keepUnits, placeWords, printable } from '../reporting/report/index.ts';
import type { ReportedFinding } from '../reporting/index.ts';
import type { Outlet } from './desk.ts';
import { inked } from './ink.ts';
import { columnsOf, fill, wrap } from './wrap.ts';

const SENTENCE_COLUMNS = 100;
/** Under this width a sentence beside the other columns would be a word a line: it goes below them. */
const TABLE_COLUMNS = 72;

/** The findings in page order: a table for a person at a terminal, else one plain line each, parted by tabs. */
export function findingLines(report: Report, outlet: Outlet): readonly string[] {
  const findings = inPageOrder(report);
  if (findings.length === 0) return [];
  if (!outlet.isTerminal) return findings.map(plainLine);
  return outlet.columns < TABLE_COLUMNS
    ? findings.flatMap((finding) => stacked(finding, outlet))
    : table(findings, outlet);
}

function plainLine(finding: ReportedFinding): string {
  return [finding.weight, placeWords(finding), finding.kind, printable(finding.says)].join('\t');
}

function table(findings: readonly ReportedFinding[], outlet: Outlet): readonly string[] {
  const where = Math.max(5, ...findings.map((finding) => columnsOf(placeWords(finding))));
  const left = 8 + where + 2;
  const width = Math.min(SENTENCE_COLUMNS, outlet.columns - left - 1);
  const head = inked(outlet, `  ${fill('', 6)}${fill('Where', where + 2)}What`, 'faded');
  return [
    head,
    ...findings.flatMap((finding) => {
      const weight = inked(outlet, fill(finding.weight, 6), finding.weight);
      const sentence = sentenceLines(finding, width).map((line) => `${' '.repeat(left)}${line}`);
      const title = inked(outlet, FINDING_WORDS[finding.kind], 'strong');
      return [`  ${weight}${fill(placeWords(finding), where + 2)}${title}`, ...sentence];
    }),
  ];
}

function stacked(finding: ReportedFinding, outlet: Outlet): readonly string[] {
  const title = `${placeWords(finding)}: ${FINDING_WORDS[finding.kind]}`;
  const [first = '', ...rest] = wrap(`${finding.weight}  ${title}`, outlet.columns - 1);
  const weight = inked(outlet, finding.weight, finding.weight);
  return [
    `${weight}${first.slice(finding.weight.length)}`,
    ...rest.map((line) => `  ${line}`),
    ...sentenceLines(finding, outlet.columns - 3).map((line) => `  ${line}`),
  ];
}

/** The finding's sentence in lines; a figure is not parted from its unit. */
function sentenceLines({ says }: ReportedFinding, width: number): readonly string[] {
  return wrap(keepUnits(printable(says)), width).map((line) => line.replaceAll('\u00a0', ' '));
}
