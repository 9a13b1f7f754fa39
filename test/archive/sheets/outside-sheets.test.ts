import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startPageWorkers } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { Report } from '../../../src/model/index.ts';
import { hasTool, run } from '../../reading/pdf/outside-tool.ts';
import { scratchFolder } from '../small-book.ts';
import { checkOfSheets } from './check-of-sheets.ts';
import { FACE, told, writeSheetBook } from './sheet-book.ts';

const PAGES = 8;
/** Of the sheet book's pages, 100 x 120 mm. */
const [W, H] = [10, 12];
const TWO_PAGES = [2 * W, H] as const;
const PT_PER_CM = 72 / 2.54;

const pool = startPageWorkers(1, DEFAULT_LIMITS);
let folder = '';
let dummyPath = '';
let postscript = '';
const hasTools = hasTool('psbook', 'psutils') && hasTool('pdftops', 'poppler-utils') && hasTool('gs', 'ghostscript');
const QUIET = ['-q', '-dSAFER', '-dBATCH', '-dNOPAUSE'];

beforeAll(async () => {
  if (!hasTools) return;
  folder = await scratchFolder();
  dummyPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES, FACE);
  postscript = join(folder, 'book.ps');
  run('pdftops', ['-level3', '-paper', 'match', dummyPath, postscript]);
});
afterAll(async () => {
  await pool.close();
  if (hasTools) await rm(folder, { recursive: true });
});

/** Runs the book through programs one after the other, and has the sheets that come out compared, nothing said of them. */
async function compareAfter(
  name: string,
  [width, height]: readonly [number, number],
  ...programs: readonly (readonly [string, ...string[]])[]
): Promise<Report> {
  let made: Buffer = execFileSync('cat', [postscript]);
  for (const [program, ...words] of programs) made = execFileSync(program, words, { input: made, maxBuffer: 2 ** 26 });
  const imposed = join(folder, `${name}.ps`);
  writeFileSync(imposed, made);
  const sheetsPath = join(folder, `${name}.pdf`);
  const size = [`-dDEVICEWIDTHPOINTS=${width * PT_PER_CM}`, `-dDEVICEHEIGHTPOINTS=${height * PT_PER_CM}`];
  const paper = [...size, '-dFIXEDMEDIA', '-dAutoRotatePages=/None'];
  run('gs', [...QUIET, '-sDEVICE=pdfwrite', ...paper, `-sOutputFile=${sheetsPath}`, imposed]);
  return checkOfSheets({ dummyPath, sheetsPath, workers: pool });
}

/** @source psutils (Debian package), its manual pages psbook(1), psnup(1), pstops(1), psselect(1) */
describe.skipIf(!hasTools)('sheets that another program made up', () => {
  const twoUp = ['psnup', '-q', `-w${2 * W}cm`, `-h${H}cm`, `-W${W}cm`, `-H${H}cm`, '-2'] as const;

  it('sections of four by psbook, two pages a side by psnup, are clean', async () => {
    const report = await compareAfter('sewn', TWO_PAGES, ['psbook', '-q', '-s4'], twoUp);
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ binding: 'sewn', filePages: 4, located: 'matching' });
  });

  it('a nested book by psbook is found to be saddle-stitched, and clean', async () => {
    const report = await compareAfter('nested', TWO_PAGES, ['psbook', '-q'], twoUp);
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ binding: 'saddle-stitched', filePages: 4 });
  });

  it('a section of eight, head to head, by pstops is clean on paper with uneven margins and room for more pages', async () => {
    const side = (x: number, y: number, [left, right, beside, above]: readonly number[]): string =>
      [`${left}(${x}cm,${y}cm)`, `${right}(${x + W}cm,${y}cm)`]
        .concat(`${beside}U(${x + W}cm,${y + 2 * H}cm)`, `${above}U(${x + 2 * W}cm,${y + 2 * H}cm)`)
        .join('+');
    const order = `${PAGES}:${side(5, 2, [7, 0, 4, 3])},${side(7, 4, [1, 6, 2, 5])}`;
    const paper = [32, 30] as const;
    const report = await compareAfter('eight', paper, ['pstops', '-q', `-w${paper[0]}cm`, `-h${paper[1]}cm`, order]);
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ filePages: 2 });
    expect(report.sheets?.sides.map(({ cells }) => cells.length)).toEqual([4, 4]);
  });

  it('pages that pstops laid on their sides, two above each other, are found by matching, and clean', async () => {
    const [wide, high] = [H + 3, 2 * W + 4];
    const order = `2:0L(${H + 1}cm,2cm)+1L(${H + 1}cm,${W + 2}cm)`;
    const report = await compareAfter(
      'lying',
      [wide, high],
      ['psbook', '-q', '-s4'],
      ['pstops', '-q', `-w${wide}cm`, `-h${high}cm`, order],
    );
    expect(told(report)).toEqual([]);
    expect(report.sheets).toMatchObject({ binding: 'sewn', filePages: 4, located: 'matching' });
    expect(
      report.sheets?.sides.slice(0, 2).map(({ cells }) => cells.map(({ page, turnDeg }) => [page, turnDeg])),
    ).toEqual([
      [
        [1, 270],
        [4, 270],
      ],
      [
        [3, 270],
        [2, 270],
      ],
    ]);
  });

  it('pages that psselect exchanged before are told so', async () => {
    const report = await compareAfter(
      'exchanged',
      TWO_PAGES,
      ['psselect', '-q', '-p1-2,6,4-5,3,7-8'],
      ['psbook', '-q', '-s4'],
      twoUp,
    );
    expect(told(report)).toEqual(['pages-exchanged 3 6']);
  });
});
