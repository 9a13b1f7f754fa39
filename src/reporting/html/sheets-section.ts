import type { Report, ReportCell, ReportSheets, ReportSide } from '../../model/index.ts';
import { isOfPlateOn } from '../../model/index.ts';
import { findingNumbers, heaviest } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { Exhibits, Leaf } from '../pictures/exhibit.ts';
import { FINDING_WORDS } from '../words/finding-words.ts';
import { cellName, planSentence, sideName, sideSource } from '../words/sheet-words.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';
import { image } from './plate.ts';
import { platesTable } from './plates-table.ts';

/** Every side of imposed sheets as a picture, its cells drawn over it with the pages that belong there. */
export function sheetsSection(
  report: Report,
  findings: readonly ReportedFinding[],
  { sides }: Pick<Exhibits, 'sides'>,
): Markup | null {
  const { sheets } = report;
  if (sheets === undefined) return null;
  const numbers = findingNumbers(report);
  return html`<section id="sheets" aria-labelledby="sheets-heading">
    <h2 id="sheets-heading">The sheets</h2>
    <p class="lead">
      ${planSentence(sheets)} Each side with its cells, and the page that belongs into each; the head of a page points
      where its arrow does. Folded, they are the book below. Register on the press and the fold itself are not seen.
    </p>
    <div class="sides">
      ${sheets.sides.map((side, index) => sideFigure(sheets, side, sides[index], { findings, numbers }))}
    </div>
    ${platesTable(sheets)}
  </section>`;
}

interface Found {
  readonly findings: readonly ReportedFinding[];
  readonly numbers: ReadonlyMap<string, number>;
}

function sideFigure(sheets: ReportSheets, side: ReportSide, drawn: Leaf | undefined, found: Found): Markup {
  const { width, height, cells } = side;
  const name = sideName(side);
  const wrong = found.findings
    .filter((finding) => isOfPlateOn(finding, side))
    .map((finding) => plateFinding(finding, found));
  return html`<figure class="side">
    <div class="sheet">
      ${drawn?.shot == null ? html`<p class="undrawn">could not be drawn</p>` : image(drawn.shot, name)}
      <svg
        class="cells"
        viewBox="0 0 ${width} ${height}"
        preserveAspectRatio="none"
        role="img"
        aria-label="${cellsSay(cells)}"
      >
        ${cells.map((cell) => cellFigure(cell, Math.min(width, height) * 0.032, found))}
      </svg>
    </div>
    <figcaption>${name}, ${sideSource({ sheets, side })}${wrong}</figcaption>
  </figure>`;
}

/** What is wrong with a plate stands in no cell. */
function plateFinding({ id, kind, weight }: ReportedFinding, { numbers }: Found): Markup {
  const number = numbers.get(id) ?? '';
  return html`<br /><a href="#finding-${number}"
      >Finding ${number}, ${weight}: ${FINDING_WORDS[kind].toLowerCase()}</a
    >`;
}

function cellFigure(cell: ReportCell, size: number, { findings, numbers }: Found): Markup {
  const { x, y, width, height } = cell.box;
  const own = findings.filter(
    ({ dummyPage, revisionPage }) => cell.page !== null && (dummyPage === cell.page || revisionPage === cell.page),
  );
  const weight = heaviest(own);
  const first = own[0];
  const name = `${cellName(cell)}${weight === null ? '' : ` ${weight}`}`;
  const inside = html`<rect
      class="cell${weight === null ? '' : ` weighs-${weight}`}"
      x="${x}"
      y="${y}"
      width="${width}"
      height="${height}"
    />
    <rect class="cell-ground" x="${x}" y="${y}" width="${size * (0.9 + 0.56 * name.length)}" height="${1.5 * size}" />
    <text class="cell-name" x="${x + size * 0.4}" y="${y + size * 1.1}" font-size="${size}">${name}</text>`;
  return first === undefined ? inside : html`<a href="#finding-${numbers.get(first.id) ?? ''}">${inside}</a>`;
}

function cellsSay(cells: readonly ReportCell[]): string {
  const rows = [...Map.groupBy(cells, ({ row }) => row).values()];
  return `Its cells, row by row: ${rows.map((row) => row.map(cellName).join(' ')).join('; ')}`;
}
