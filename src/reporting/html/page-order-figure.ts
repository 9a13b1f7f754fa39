import type { Report } from '../../model/index.ts';
import { orderFindings } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import { formatCount } from '../words/figures.ts';
import { percent } from './fore-edge.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';

const ROW = { dummyTop: 22, dummyFoot: 44, revisionTop: 150, revisionFoot: 172, height: 194 };
/** More numbers than this would lie on each other; the list below names every page. */
const MOST_LABELS = 18;
/**
 * The dummy's order above, the revision's below, a line from each page to its place; pages that moved or repeat are
 * drawn strong, all others as a quiet ground, so that it reads with 30 pages and with 300.
 */
export function pageOrderFigure(report: Report, findings: readonly ReportedFinding[]): Markup {
  const places = Math.max(report.dummy.pages, report.revision.pages, 1);
  const x = (page: number): string => `${percent((page - 0.5) / places)}%`;
  const about = orderFindings(findings);
  const strong = new Set(about.map(({ dummyPage, revisionPage }) => `${dummyPage}/${revisionPage}`));
  const kindAt = new Map(about.map((finding) => [`${finding.dummyPage}/${finding.revisionPage}`, finding.kind]));

  const quiet: Markup[] = [];
  const loud: Markup[] = [];
  for (const { dummyPage, revisionPage } of report.pages) {
    if (dummyPage !== null) quiet.push(tick(x(dummyPage), ROW.dummyTop, ROW.dummyFoot));
    if (revisionPage !== null) quiet.push(tick(x(revisionPage), ROW.revisionTop, ROW.revisionFoot));
    const key = `${dummyPage}/${revisionPage}`;
    if (dummyPage !== null && revisionPage !== null) {
      const line = html`<line
        class="${strong.has(key) ? (kindAt.get(key) ?? '') : 'in-order'}"
        x1="${x(dummyPage)}"
        y1="${ROW.dummyFoot}"
        x2="${x(revisionPage)}"
        y2="${ROW.revisionTop}"
      />`;
      (strong.has(key) ? loud : quiet).push(line);
    }
    if (strong.has(key)) loud.push(...ends({ dummyPage, revisionPage }, x));
  }
  const labels = about.length > MOST_LABELS ? [] : about.flatMap((finding) => numbers(finding, x));
  return html`<svg class="order" role="img" aria-label="${label(report, about)}" width="100%" height="${ROW.height}">
    <g class="quiet">${quiet}</g>
    <g class="loud">${loud}</g>
    <g class="numbers">${labels}</g>
  </svg>`;
}

interface Places {
  readonly dummyPage: number | null;
  readonly revisionPage: number | null;
}

function tick(x: string, top: number, foot: number): Markup {
  return html`<line x1="${x}" x2="${x}" y1="${top}" y2="${foot}" />`;
}

/** The page's own ticks, drawn strong; a page with no other side ends in a ring. */
function ends({ dummyPage, revisionPage }: Places, x: (page: number) => string): readonly Markup[] {
  const marks: Markup[] = [];
  if (dummyPage !== null) marks.push(tick(x(dummyPage), ROW.dummyTop - 6, ROW.dummyFoot));
  if (revisionPage !== null) marks.push(tick(x(revisionPage), ROW.revisionTop, ROW.revisionFoot + 6));
  if (revisionPage === null && dummyPage !== null) {
    marks.push(html`<circle cx="${x(dummyPage)}" cy="${ROW.dummyFoot + 8}" r="4" />`);
  }
  if (dummyPage === null && revisionPage !== null) {
    marks.push(html`<circle cx="${x(revisionPage)}" cy="${ROW.revisionTop - 8}" r="4" />`);
  }
  return marks;
}

function numbers({ dummyPage, revisionPage }: Places, x: (page: number) => string): readonly Markup[] {
  return [
    ...(dummyPage === null ? [] : [html`<text x="${x(dummyPage)}" y="${ROW.dummyTop - 9}">${dummyPage}</text>`]),
    ...(revisionPage === null
      ? []
      : [html`<text x="${x(revisionPage)}" y="${ROW.revisionFoot + 19}">${revisionPage}</text>`]),
  ];
}

function label(report: Report, about: readonly ReportedFinding[]): string {
  return (
    `Order of the ${formatCount(report.dummy.pages, 'dummy page')} above, of the ` +
    `${formatCount(report.revision.pages, 'revision page')} below; ` +
    `${formatCount(about.length, 'page stands', 'pages stand')} out of the dummy’s order. The list names them.`
  );
}
