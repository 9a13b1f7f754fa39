import type { Report, Weight } from '../../model/index.ts';
import { findingsAt, heaviest } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { Exhibits } from '../pictures/exhibit.ts';
import { folioOf, originOf, spreadsOf } from '../spreads.ts';
import type { Place, Spread } from '../spreads.ts';
import { COLOUR, MARGIN, MEASURE, openSection, requireRoom, setParagraph, STYLE, tagged } from './paper.ts';
import type { Paper } from './paper.ts';
import type { PictureStock } from './picture-stock.ts';
import { drawWeightSign } from './signs.ts';
import { breakLines, drawLines } from './type-setting.ts';
import type { Style } from './type-setting.ts';

const LEAF = { width: 43, gap: 14, captions: 42 };
const FOLIO: Style = { face: 'text', sizePt: 8, colour: COLOUR.ink };
const ORIGIN: Style = { face: 'italic', sizePt: 7, colour: COLOUR.faded };
const TAG: Style = { face: 'text', sizePt: 7, colour: COLOUR.ink };
const STANDS_OUT_PT: Readonly<Record<Weight, number>> = { stop: 4, look: 2.4, note: 1.2 };

/** What the sheets of the book are drawn from. */
export interface BookContent {
  readonly report: Report;
  readonly findings: readonly ReportedFinding[];
  readonly exhibits: Exhibits;
  readonly stock: PictureStock;
}

/** The revision as rows of small spreads, with what was found on each page. */
export function drawBook(paper: Paper, content: BookContent): void {
  openSection(paper, 'The book');
  const lead =
    'The revision, spread by spread. Where a page stood elsewhere in the dummy, its place there is written below it. ' +
    'A missing page hangs apart, with its number in the dummy.';
  setParagraph(paper, lead, STYLE.quiet, { widthPt: 380, after: 16 });
  const right = MARGIN.left + MEASURE;
  let x = MARGIN.left;
  let row: { readonly place: Place; readonly x: number; readonly hangs: boolean }[] = [];
  const flush = (): void => {
    drawRow(paper, content, row);
    row = [];
    x = MARGIN.left;
  };
  for (const group of spreadsOf(content.report.pages).flatMap(looseApart)) {
    const width = LEAF.width * (group.hangs ? 1 : 2);
    if (x + width > right + 1) flush();
    group.places.forEach((place, side) => {
      const alone = !group.hangs && group.places.length === 1 && (place.pair.revisionPage ?? 0) % 2 === 1;
      row.push({ place, x: x + (alone ? 1 : side) * LEAF.width, hangs: group.hangs });
    });
    x += width + LEAF.gap;
  }
  flush();
}

function looseApart({
  bound,
  loose,
}: Spread): readonly { readonly places: readonly Place[]; readonly hangs: boolean }[] {
  return [
    ...(bound.length === 0 ? [] : [{ places: bound, hangs: false }]),
    ...loose.map((place) => ({ places: [place], hangs: true })),
  ];
}

function drawRow(
  paper: Paper,
  content: BookContent,
  row: readonly { readonly place: Place; readonly x: number; readonly hangs: boolean }[],
): void {
  if (row.length === 0) return;
  const height = Math.max(...row.map(({ place }) => leafHeight(content, place)));
  requireRoom(paper, height + LEAF.captions);
  for (const { place, x, hangs } of row) drawLeaf(paper, content, place, { x, hangs });
  paper.y += height + LEAF.captions + 8;
}

function leafHeight({ exhibits }: BookContent, { index }: Place): number {
  const shot = exhibits.leaves[index]?.shot ?? null;
  return shot === null ? LEAF.width : Math.min(2 * LEAF.width, (LEAF.width * shot.height) / shot.width);
}

function drawLeaf(
  paper: Paper,
  content: BookContent,
  place: Place,
  { x, hangs }: { readonly x: number; readonly hangs: boolean },
): void {
  const { document, y } = paper;
  const { pair, index } = place;
  const findings = findingsAt(content.findings, pair);
  const weight = heaviest(findings);
  const height = leafHeight(content, place);
  const shot = content.exhibits.leaves[index]?.shot ?? null;
  const alt = [folioOf(pair), originOf(pair), findings.length === 0 ? 'nothing found' : `${findings.length} found`];
  const draw = (): void => {
    if (weight !== null) {
      const high = STANDS_OUT_PT[weight];
      document.rect(x, y - high, LEAF.width, high).fill(weight === 'note' ? COLOUR.faded : COLOUR.signal);
    }
    document.save().opacity(hangs ? 0.5 : 1);
    if (shot !== null) content.stock.place(document, shot, { x, y, width: LEAF.width, height });
    document.restore();
    if (hangs) document.dash(2.5, { space: 2 });
    document
      .lineWidth(0.5)
      .rect(x, y, LEAF.width, height)
      .stroke(hangs ? COLOUR.faded : COLOUR.hairline);
    document.undash();
  };
  tagged(paper, 'Figure', draw, { alt: `Page ${alt.filter((part) => part !== '').join(', ')}` });
  const onRight = !hangs && (pair.revisionPage ?? 0) % 2 === 1;
  tagged(paper, 'P', () => {
    const at = { x, align: onRight ? ('right' as const) : ('left' as const), widthPt: LEAF.width };
    drawLines(paper, breakLines(paper, folioOf(pair), FOLIO, LEAF.width), FOLIO, { ...at, y: y + height + 2 });
    const origin = originOf(pair) === '' ? [] : breakLines(paper, originOf(pair), ORIGIN, LEAF.width);
    drawLines(paper, origin, ORIGIN, { ...at, y: y + height + 12 });
    const tag = { x: onRight ? x + LEAF.width - 24 : x, y: y + height + 13.5 + origin.length * 9.5 };
    if (weight !== null) drawTag(paper, weight, tag);
  });
}

/** The sign and the word of what weighs most on a page. */
function drawTag(paper: Paper, weight: Weight, at: { readonly x: number; readonly y: number }): void {
  const { document } = paper;
  document.save();
  document.translate(at.x, at.y + 1).scale(0.7);
  drawWeightSign(document, weight, 0, 0);
  document.restore();
  drawLines(paper, breakLines(paper, weight, TAG, 40), TAG, { x: at.x + 8, y: at.y - 1 });
}
