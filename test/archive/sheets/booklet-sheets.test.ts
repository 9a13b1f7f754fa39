import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startPageWorkers, type PlanChoice } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { Report } from '../../../src/model/index.ts';
import { scratchFolder } from '../small-book.ts';
import { checkOfSheets } from './check-of-sheets.ts';
import { hasLatex, typeset } from './latex.ts';
import { FACE, told, writeSheetBook } from './sheet-book.ts';

const PAGES = 16;
const pool = startPageWorkers(1, DEFAULT_LIMITS);
let folder = '';
let dummyPath = '';

beforeAll(async () => {
  if (!hasLatex) return;
  folder = await scratchFolder();
  dummyPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES, FACE);
});
afterAll(async () => {
  await pool.close();
  if (hasLatex) await rm(folder, { recursive: true });
});

let made = 0;

/** Has pdfpages make sheets of the book’s 100 x 120 mm pages on paper of a size, and compares them. */
async function compareMade(
  { pages = '-', options, paper }: { readonly pages?: string; readonly options: string; readonly paper: string },
  planChoice: PlanChoice = { from: 'found' },
): Promise<Report> {
  const name = `made-${++made}`;
  const body = String.raw`\includepdf[pages={${pages}},noautoscale,${options}]{book.pdf}`;
  typeset(folder, name, { paper, packages: 'pdfpages', body });
  return checkOfSheets({ dummyPath, sheetsPath: join(folder, `${name}.pdf`), planChoice, workers: pool });
}

const WIDE = 'paperwidth=220mm,paperheight=140mm';
const HIGH = 'paperwidth=140mm,paperheight=220mm';
const turnsOf = ({ sheets }: Report) =>
  sheets!.sides.slice(0, 2).map(({ cells }) => cells.map(({ page, turnDeg }) => `${page}@${turnDeg}`));

/** @source LaTeX with the package pdfpages (Debian texlive-latex-recommended), its options `signature` and `booklet` */
describe.skipIf(!hasLatex)('sheets that pdfpages made', () => {
  it('sections of four are found to be sewn and the sheet to be tumbled, and are clean', async () => {
    const report = await compareMade({ options: 'signature=4', paper: WIDE });
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ binding: 'sewn', located: 'boxes', filePages: 8 });
    expect(turnsOf(report)).toEqual([
      ['1@180', '4@180'],
      ['2@0', '3@0'],
    ]);
  });

  it('sections of eight, of two sheets one inside the other, are found to be sewn, and clean', async () => {
    const report = await compareMade({ options: 'signature=8', paper: WIDE });
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ binding: 'sewn', located: 'boxes', filePages: 8 });
    const pages = report.sheets!.sides.map(({ cells }) => cells.map(({ page }) => page));
    expect(pages.slice(0, 4)).toEqual([
      [1, 8],
      [2, 7],
      [3, 6],
      [4, 5],
    ]);
  });

  it('a nested booklet is found to be saddle-stitched, and clean', async () => {
    const report = await compareMade({ options: 'booklet', paper: WIDE });
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ binding: 'saddle-stitched', located: 'boxes' });
    expect(turnsOf(report)[0]).toEqual(['1@180', '16@180']);
  });

  it('a booklet on upright paper lies on its side, turned about the upright axis, and is clean', async () => {
    const report = await compareMade({ options: 'booklet,landscape', paper: HIGH });
    expect(told(report)).toEqual([]);
    expect(turnsOf(report)).toEqual([
      ['1@270', '16@270'],
      ['2@90', '15@90'],
    ]);
  });

  it('said to be tumbled they are clean; said to be turned about the upright axis, one side of each sheet stands on its head', async () => {
    const choice = { from: 'made', sectionPages: 4, binding: 'sewn' } as const;
    const sheets = { options: 'signature=4', paper: WIDE };
    expect(told(await compareMade(sheets, { ...choice, working: 'sheetwise-tumbled' }))).toEqual([]);
    const turned = await compareMade(sheets, { ...choice, working: 'sheetwise' });
    expect(told(turned)).toEqual(
      [1, 5, 9, 13].flatMap((first) => [
        `pages-exchanged ${first} ${first + 3}`,
        `page-turned ${first} ${first + 3}`,
        `page-turned ${first + 3} ${first}`,
      ]),
    );
  });

  it('two pages that were exchanged before are told so', async () => {
    const report = await compareMade({ pages: '1-2,6,4-5,3,7-16', options: 'signature=4', paper: WIDE });
    expect(told(report)).toEqual(['pages-exchanged 3 6']);
  });
});
