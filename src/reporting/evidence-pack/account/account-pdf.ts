import {
  closePaper,
  MARGIN,
  MEASURE,
  openPaper,
  openSection,
  ornament,
  requireRoom,
  setParagraph,
  STYLE,
  tagged,
  within,
  COLOUR,
} from '../../pdf/paper.ts';
import type { Paper } from '../../pdf/paper.ts';
import { drawHouseMark } from '../../pdf/signs.ts';
import { breakLines, drawLines, LEADING } from '../../pdf/type-setting.ts';
import type { SetLine, Style } from '../../pdf/type-setting.ts';
import { drawPictures } from './draw-pictures.ts';
import type { PaperPicture } from './account-pictures.ts';
import type { Account, Block, Section } from './section.ts';

const TERM_PT = 92;
const CELL: Style = { face: 'text', sizePt: 9, colour: COLOUR.ink };
const MOMENT: Style = { face: 'text', sizePt: 8.5, colour: COLOUR.faded };
const GUTTER = 10;
const DASH_PT = 12;

/** An account on paper. The same account gives the same bytes. */
export async function drawAccount(
  account: Account,
  madeAt: Date,
  pictures: ReadonlyMap<string, PaperPicture> = new Map(),
): Promise<Uint8Array> {
  const title = `Account of “${account.title}”`;
  const paper = openPaper(title, madeAt);
  const { document } = paper;
  ornament(paper, () => drawHouseMark(document, MARGIN.left, MARGIN.top - 14));
  paper.y = MARGIN.top - 8;
  setParagraph(paper, 'WITNESS LEAF', STYLE.term, { x: MARGIN.left + 28, after: 46 });
  setParagraph(paper, account.title, STYLE.title, { type: 'H1', after: 2 });
  setParagraph(paper, `Who did what when. ${account.subtitle}`, STYLE.subtitle, { after: 26 });
  account.sections.forEach((section, index) => {
    drawSection(paper, section, index, pictures);
  });
  return closePaper(paper, `Witness Leaf · ${title}`);
}

function drawSection(paper: Paper, { heading, blocks }: Section, index: number, pictures: Pictures): void {
  if (index > 0) paper.y += 22;
  requireRoom(paper, 110);
  within(paper, 'Sect', () => {
    openSection(paper, heading);
    for (const block of blocks) drawBlock(paper, block, pictures);
  });
}

type Pictures = ReadonlyMap<string, PaperPicture>;

function drawBlock(paper: Paper, block: Block, pictures: Pictures): void {
  switch (block.kind) {
    case 'text':
      setParagraph(paper, block.text, STYLE.text, { widthPt: 400, after: 5 });
      return;
    case 'list':
      for (const item of block.items) drawItem(paper, item);
      paper.y += 4;
      return;
    case 'terms':
      for (const row of block.rows) drawTerm(paper, row);
      return;
    case 'events':
      paper.y += 4;
      for (const event of block.events) drawEvent(paper, event);
      return;
    case 'pictures':
      drawPictures(paper, block.pictures, pictures);
      return;
    case 'table':
      drawTable(paper, block);
  }
}

/** A line of a list, its dash hanging. */
function drawItem(paper: Paper, item: string): void {
  const lines = breakLines(paper, item, STYLE.text, 400 - DASH_PT);
  requireRoom(paper, heightOf(lines, STYLE.text));
  const { y } = paper;
  ornament(paper, () => {
    drawLines(paper, breakLines(paper, '–', STYLE.text, DASH_PT), STYLE.text, { x: MARGIN.left, y });
  });
  tagged(paper, 'P', () => {
    drawLines(paper, lines, STYLE.text, { x: MARGIN.left + DASH_PT, y });
  });
  paper.y = y + heightOf(lines, STYLE.text) + 4;
}

function rule(paper: Paper, y: number): void {
  ornament(paper, () => {
    paper.document.lineWidth(0.5).strokeColor(COLOUR.hairline);
    paper.document
      .moveTo(MARGIN.left, y)
      .lineTo(MARGIN.left + MEASURE, y)
      .stroke();
  });
}

function heightOf(lines: readonly SetLine[], style: Style): number {
  return lines.length * style.sizePt * LEADING;
}

function drawTerm(paper: Paper, [term, says]: readonly [string, string]): void {
  const terms = breakLines(paper, term, CELL_TERM, TERM_PT - GUTTER);
  const lines = breakLines(paper, says, CELL, MEASURE - TERM_PT);
  const height = Math.max(heightOf(terms, CELL_TERM), heightOf(lines, CELL)) + 8;
  requireRoom(paper, height);
  const { y } = paper;
  rule(paper, y);
  tagged(paper, 'P', () => {
    drawLines(paper, terms, CELL_TERM, { x: MARGIN.left, y: y + 4 });
    drawLines(paper, lines, CELL, { x: MARGIN.left + TERM_PT, y: y + 4 });
  });
  paper.y = y + height;
}

const CELL_TERM: Style = { face: 'italic', sizePt: 9, colour: COLOUR.faded };
const MOMENT_PT = 122;
const NUMBER_PT = 34;

function drawEvent(
  paper: Paper,
  { at, says, entry }: { readonly at: string; readonly says: string; readonly entry: number | null },
): void {
  const moment = breakLines(paper, at, MOMENT, MOMENT_PT - GUTTER);
  const lines = breakLines(paper, says, STYLE.text, MEASURE - MOMENT_PT - NUMBER_PT);
  const height = heightOf(lines, STYLE.text) + 6;
  requireRoom(paper, height);
  const { y } = paper;
  tagged(paper, 'P', () => {
    drawLines(paper, moment, MOMENT, { x: MARGIN.left, y: y + 1.4 });
    drawLines(paper, lines, STYLE.text, { x: MARGIN.left + MOMENT_PT, y });
    const number = breakLines(paper, entry === null ? '' : `${entry}`, MOMENT, NUMBER_PT);
    drawLines(paper, number, MOMENT, { x: MARGIN.left, y: y + 1.4, align: 'right', widthPt: MEASURE });
  });
  paper.y = y + height;
}

function drawTable(paper: Paper, { columns, rows }: Extract<Block, { kind: 'table' }>): void {
  let x = MARGIN.left;
  const places = columns.map(({ share }) => {
    const place = { x, width: share * MEASURE - GUTTER };
    x += share * MEASURE;
    return place;
  });
  within(paper, 'Table', () => {
    const titles = columns.map(({ title }) => title.toUpperCase());
    drawRow(paper, titles, places, STYLE.term, 'TH');
    for (const row of rows) drawRow(paper, row, places, CELL, 'TD');
  });
  rule(paper, paper.y);
  paper.y += 4;
}

function drawRow(
  paper: Paper,
  row: readonly string[],
  places: readonly { readonly x: number; readonly width: number }[],
  style: Style,
  type: 'TH' | 'TD',
): void {
  const cells = row.map((text, index) => breakLines(paper, text, style, places[index]?.width ?? 0));
  const height = Math.max(...cells.map((lines) => heightOf(lines, style))) + 8;
  requireRoom(paper, height);
  const { y } = paper;
  if (type === 'TD') rule(paper, y);
  within(paper, 'TR', () => {
    cells.forEach((lines, index) => {
      tagged(paper, type, () => {
        drawLines(paper, lines, style, { x: places[index]?.x ?? 0, y: y + 3.5 });
      });
    });
  });
  paper.y = y + height;
}
