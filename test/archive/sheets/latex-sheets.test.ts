import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startPageWorkers } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { Report } from '../../../src/model/index.ts';
import { scratchFolder, writeBook } from '../small-book.ts';
import { checkOfSheets } from './check-of-sheets.ts';
import { hasLatex, typeset as typesetIn } from './latex.ts';
import { FACE, sheetPages, told, writeSheetBook } from './sheet-book.ts';

const PAGES = 8;
/** Of the sheet book's pages, in mm. */
const [W, H] = [100, 120];
/** With room of 20 mm and 15 mm around the pages. */
const PAPER = [2 * W + 40, 2 * H + 30] as const;

const pool = startPageWorkers(1, DEFAULT_LIMITS);
let folder = '';
let dummyPath = '';

beforeAll(async () => {
  if (!hasLatex) return;
  folder = await scratchFolder();
  dummyPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES, FACE);
  await writeBook(join(folder, 'empty.pdf'), [{}]);
});
afterAll(async () => {
  await pool.close();
  if (hasLatex) await rm(folder, { recursive: true });
});

/** Has LaTeX make sheets out of the book, and compares them, nothing said of how they fold. */
async function compareMade(name: string, sides: readonly (readonly number[])[], how: Placing = {}): Promise<Report> {
  typeset(name, sides.map((pages) => side(pages, how)).join(String.raw`\newpage `));
  return checkOfSheets({ dummyPath, sheetsPath: join(folder, `${name}.pdf`), workers: pool });
}

/** Has LaTeX write a file of sheets. */
function typeset(name: string, body: string): void {
  const [width, height] = PAPER;
  typesetIn(folder, name, { paper: `paperwidth=${width}mm,paperheight=${height}mm`, packages: 'graphicx', body });
}

/** @source LaTeX with the package graphicx (Debian texlive-latex-recommended), its options `page` and `angle` */
describe.skipIf(!hasLatex)('a section of eight, head to head, that LaTeX made up page by page', () => {
  it('is clean', async () => {
    const report = await compareMade('eight', EIGHT);
    expect(told(report)).toEqual([]);
    expect(report.sheets?.located).toBe('boxes');
    expect(report.sheets?.sides.map(({ cells }) => cells.map(({ page }) => page))).toEqual(EIGHT);
  });

  it('with two pages in each other’s cells is told so', async () => {
    const exchanged = EIGHT.map((pages) => pages.map((page) => ({ 3: 6, 6: 3 })[page] ?? page));
    expect(told(await compareMade('exchanged', exchanged))).toEqual(['pages-exchanged 3 6']);
  });

  it('with a page 1.5 mm beside its place is told so of both pages of its column: no third says which of them it is', async () => {
    const report = await compareMade('off', EIGHT, { off: { page: 7, mm: 1.5 } });
    expect(told(report)).toEqual(['page-off-place 6 6', 'page-off-place 7 7']);
    expect(report.sheets?.located).toBe('boxes');
    const [left, right] = report.findings.map(({ measured }) => (measured as { shiftXmm: number }).shiftXmm);
    expect(Math.abs(right! - left! - 1.5)).toBeLessThan(0.05);
  });

  it('is clean where no box is to be seen but those of empty pages beside its own', async () => {
    const report = await compareMade('beside', EIGHT, { cutMm: 0.25, emptyMm: 30 });
    expect(told(report)).toEqual([]);
    expect(report.sheets?.located).toBe('matching');
  });

  it('with a page that was left out is told so, and which cell is empty', async () => {
    const report = await compareMade('left-out', [
      [5, 4, 8, 1],
      [3, 6, 2],
    ]);
    expect(told(report)).toEqual(['page-missing 7 7']);
    expect(report.findings[0]!.says).toBe('Page 7 is missing from its sheet: sheet 1 back, row 2, column 2 is empty.');
  });
});

/** @source LaTeX with the package graphicx, its option `scale` */
describe.skipIf(!hasLatex)('sheets that were placed smaller than they are', () => {
  let ownDummy = '';
  beforeAll(async () => {
    // as in most books, many words are there once
    const ownWords = sheetPages(PAGES).map((page, index) => ({
      ...page,
      lines: (page.lines ?? []).flatMap((line, at) => [
        line,
        line
          .split(' ')
          .map((word) => `${word}${index}${at}`)
          .join(' '),
      ]),
    }));
    ownDummy = await writeBook(join(folder, 'own-words.pdf'), ownWords, FACE);
  });

  const compareReduced = (name: string, sides: readonly (readonly number[])[], scale: number): Promise<Report> => {
    const whole = sides.map((pages) => side(pages, { file: 'own-words.pdf' }));
    typeset(name, whole.join(String.raw`\newpage `));
    const smaller = [1, 2].map((page) => String.raw`\hbox{\includegraphics[page=${page},scale=${scale}]{${name}.pdf}}`);
    typeset(`${name}-reduced`, smaller.join(String.raw`\newpage `));
    const sheetsPath = join(folder, `${name}-reduced.pdf`);
    return checkOfSheets({ dummyPath: ownDummy, sheetsPath, workers: pool });
  };

  it('are told so once, and are clean at the size of the dummy', async () => {
    const report = await compareReduced('to-reduce', EIGHT, 0.96);
    expect(told(report)).toEqual(['page-resized - -']);
    const { dummyMm, revisionMm } = report.findings[0]!.measured as Record<string, { width: number; height: number }>;
    expect([dummyMm!.width, dummyMm!.height]).toEqual([expect.closeTo(W, 2), expect.closeTo(H, 2)]);
    expect(revisionMm!.width / W).toBeCloseTo(0.96, 3);
    const [front] = report.sheets!.sides;
    expect(front!.cells.map(({ page }) => page)).toEqual(EIGHT[0]);
    expect(front!.cells[0]!.box.width).toBeCloseTo(0.96 * W, 0);
  });

  it('have their faults told beside it', async () => {
    const exchanged = EIGHT.map((pages) => pages.map((page) => ({ 3: 6, 6: 3 })[page] ?? page));
    const report = await compareReduced('exchanged-to-reduce', exchanged, 0.7);
    expect(told(report)).toEqual(['pages-exchanged 3 6', 'page-resized - -']);
  });

  it('are told by the boxes of their pages where no word stands once that could tell it', async () => {
    typeset('few-words', EIGHT.map((pages) => side(pages, {})).join(String.raw`\newpage `));
    const smaller = [1, 2].map((page) => String.raw`\hbox{\includegraphics[page=${page},scale=0.93]{few-words.pdf}}`);
    typeset('few-words-reduced', smaller.join(String.raw`\newpage `));
    const sheetsPath = join(folder, 'few-words-reduced.pdf');
    const report = await checkOfSheets({ dummyPath, sheetsPath, workers: pool });
    expect(told(report)).toEqual(['page-resized - -']);
    const { revisionMm } = report.findings[0]!.measured as { revisionMm: { width: number } };
    expect(revisionMm.width / W).toBeCloseTo(0.93, 3);
    // placed through a smaller window they have their size
    expect(told(await compareMade('small-window', EIGHT, { cutMm: 0.25 }))).toEqual([]);
  });
});

/** How pages are placed otherwise than each with its whole box, at its place. */
interface Placing {
  /** A page that lies to the right of its place. */
  readonly off?: { readonly page: number; readonly mm: number };
  /** Pages are placed through a window so much smaller at each edge, so that their boxes are not to be seen. */
  readonly cutMm?: number;
  /** Empty pages are placed so far beside each page. */
  readonly emptyMm?: number;
  /** Of another book. */
  readonly file?: string;
}

/** The two sides of a section of eight, its upper pages on their heads. */
const EIGHT = [
  [5, 4, 8, 1],
  [3, 6, 2, 7],
];

/** A side of it: lengths in mm from the lower left. */
function side(pages: readonly number[], { off, cutMm = 0, emptyMm, file = 'book.pdf' }: Placing): string {
  const placed = pages.map((page, index) => {
    const [column, isUpper] = [index % 2, index < 2];
    const turned = isUpper ? ',angle=180,origin=c' : '';
    const x = 20 + column * W + (off?.page === page ? off.mm : 0);
    const y = 15 + (isUpper ? H : 0);
    const window = `,viewport=${cutMm}mm ${cutMm}mm ${W - cutMm}mm ${H - cutMm}mm,clip`;
    const options = `page=${page}${cutMm === 0 ? '' : window}${turned}`;
    const empty = String.raw`\put(${x + (emptyMm ?? 0)},${y}){\includegraphics{empty.pdf}}`;
    const own = String.raw`\put(${x + cutMm},${y + cutMm}){\includegraphics[${options}]{${file}}}`;
    return emptyMm === undefined ? own : own + empty;
  });
  const [width, height] = PAPER;
  return String.raw`\vbox to \paperheight{\unitlength1mm\begin{picture}(${width},${height})${placed.join('')}\end{picture}\vss}`;
}
