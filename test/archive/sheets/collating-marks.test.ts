import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SheetFault } from '../../../demo/sheets/faults.ts';
import type { SheetMarks } from '../../../demo/sheets/marks.ts';
import { startPageWorkers } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { Plan } from '../../../src/plates/index.ts';
import { scratchFolder, writeBook } from '../small-book.ts';
import type { SmallPage } from '../small-book.ts';
import { checkMade, sheetPages, smallPlan, told } from './sheet-book.ts';

const pool = startPageWorkers(1, DEFAULT_LIMITS);
let folder = '';
let blankPath = '';
let typePath = '';
const sections = [{ pages: 4 }, { pages: 4 }, { pages: 4 }, { pages: 4 }];
/** Sections that are glued have paper between first and last page, where marks stand; sewn ones have the fold. */
const GLUED = smallPlan(16, { binding: 'perfect-bound', sections, trims: { grindOffMm: 3 } });
const SEWN = smallPlan(16, { sections });
const OVER: Partial<SheetMarks> = { collating: 'over-the-fold' };

/** The same page of type but for its folio, so that a small picture of it tells nothing. */
const ofType = (page: number): SmallPage => ({
  lines: [...Array.from({ length: 12 }, () => 'a line of type like any other one'), `${page}`],
});

beforeAll(async () => {
  folder = await scratchFolder();
  const printed = sheetPages(16);
  const inTheMiddle = (make: (page: number) => SmallPage): SmallPage[] =>
    printed.map((page, index) => (index >= 4 && index < 12 ? make(index + 1) : page));
  blankPath = await writeBook(
    join(folder, 'blank.pdf'),
    inTheMiddle(() => ({ lines: [] })),
  );
  typePath = await writeBook(join(folder, 'type.pdf'), inTheMiddle(ofType));
});
afterAll(async () => {
  await pool.close();
  await rm(folder, { recursive: true });
});

const check = (bookPath: string, plan: Plan, faults: readonly SheetFault[] = [], marks: Partial<SheetMarks> = {}) =>
  checkMade(folder, { bookPath, plan, faults, marks }, { from: 'given', plan }, pool);
const EXCHANGED: SheetFault[] = [{ kind: 'sheets-exchanged', sheets: [2, 3] }];
const TOLD = ['section-out-of-order 5 5', 'section-out-of-order 9 9'];

describe('collating marks', () => {
  it('are part of no page, in the paper that is ground off and over the fold', async () => {
    expect(told(await check(blankPath, GLUED))).toEqual([]);
    expect(told(await check(blankPath, SEWN, [], OVER))).toEqual([]);
  });

  it('tell blank sections in the wrong order, which nothing else can', async () => {
    expect(told(await check(blankPath, GLUED, EXCHANGED))).toEqual(TOLD);
    expect(told(await check(blankPath, SEWN, EXCHANGED, OVER))).toEqual(TOLD);
    expect(told(await check(blankPath, SEWN, EXCHANGED, { collating: false }))).toEqual([]);
  });

  it('tell sections of type alone in the wrong order, once and not page by page', async () => {
    const report = await check(typePath, SEWN, EXCHANGED, OVER);
    expect(told(report)).toEqual(TOLD);
    expect(report.findings[0]!.says).toBe('Sheet 2 stands in the file where sheet 3 belongs.');
  });

  it('that are of another section than the pages are told, and change nothing', async () => {
    const report = await check(blankPath, GLUED, [{ kind: 'wrong-mark', sheet: 4, markOf: 5 }]);
    expect(told(report)).toEqual(['collating-mark-off 13 13']);
    expect(report.findings[0]).toMatchObject({ weight: 'look', measured: { sheet: 4, marksSection: 5 } });
    expect(report.pages.every(({ state }) => state === 'same-picture')).toBe(true);
  });

  it('that come twice are told where they are wrong', async () => {
    const report = await check(blankPath, GLUED, [{ kind: 'wrong-mark', sheet: 3, markOf: 2 }]);
    expect(told(report)).toEqual(['collating-mark-off 9 9']);
  });
});
