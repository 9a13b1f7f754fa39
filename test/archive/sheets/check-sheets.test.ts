import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NO_MARKS } from '../../../demo/sheets/marks.ts';
import type { SheetFault } from '../../../demo/sheets/faults.ts';
import { startPageWorkers, type PlanChoice } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { makePlan } from '../../../src/plates/index.ts';
import { scratchFolder } from '../small-book.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { checkMade as checkWith, smallPlan, told, writeSheetBook } from './sheet-book.ts';

const pool = startPageWorkers(1, DEFAULT_LIMITS);
const checkMade = (...given: [string, Parameters<typeof checkWith>[1], PlanChoice]) => checkWith(...given, pool);
let folder = '';
let bookPath = '';
const plan = smallPlan(16, { creepMm: 0.1 });
const byPlan: PlanChoice = { from: 'given', plan };
const made: PlanChoice = { from: 'made', sectionPages: 16, binding: 'sewn' };

beforeAll(async () => {
  folder = await scratchFolder();
  bookPath = await writeSheetBook(join(folder, 'book.pdf'), 16);
});
afterAll(async () => {
  await pool.close();
  await rm(folder, { recursive: true });
});

const check = (faults: readonly SheetFault[], choice: PlanChoice = byPlan) =>
  checkMade(folder, { bookPath, plan, faults }, choice);

describe('clean sheets are silent', () => {
  it.each([
    ['by a plan that was given', byPlan],
    ['by the folds alone', made],
    ['with nothing said of how they are folded', { from: 'found' } as const],
  ])('%s', async (_, choice) => {
    const report = await check([], choice);
    expect(told(report)).toEqual([]);
    expect(report.verdict).toBe('match');
    expect(report.pages.map(({ state }) => state)).toEqual(Array.from({ length: 16 }, () => 'same-picture'));
    expect(report.sheets).toMatchObject({ plan: choice.from, filePages: 2, binding: 'sewn' });
  });

  it('without any marks, by matching alone', async () => {
    const report = await checkMade(folder, { bookPath, plan, marks: NO_MARKS }, { from: 'found' });
    expect(told(report)).toEqual([]);
    expect(report.sheets!.located).toBe('matching');
  });

  it.each(['work-and-turn', 'work-and-tumble'] as const)('worked from one forme, %s', async (working) => {
    const one = smallPlan(16, { sections: [{ pages: 16, working }] });
    expect(told(await checkMade(folder, { bookPath, plan: one }, { from: 'given', plan: one }))).toEqual([]);
  });
});

describe('what is wrong on sheets is told in the words of sheets', () => {
  it.each<[string, SheetFault[], string[]]>([
    ['two pages exchanged are one finding', [{ kind: 'exchanged', pages: [5, 12] }], ['pages-exchanged 5 12']],
    [
      'a page in a wrong cell, and the one that is nowhere',
      [{ kind: 'wrong-cell', page: 7, shows: 11 }],
      ['page-missing 7 -', 'page-in-wrong-cell 11 7'],
    ],
    ['a page on its head', [{ kind: 'turned', page: 9, degrees: 180 }], ['page-turned 9 9']],
    ['an empty cell', [{ kind: 'missing', page: 10 }], ['page-missing 10 10']],
    ['a gutter', [{ kind: 'off-place', page: 13, shiftXmm: 1.5, shiftYmm: 0 }], ['page-off-place 13 13']],
    ['front and back exchanged', [{ kind: 'sides-exchanged', sheet: 1 }], ['sides-exchanged 1 1']],
    [
      'the back out of register',
      [{ kind: 'back-off', sheet: 1, shiftXmm: 0.8, shiftYmm: -0.4 }],
      ['back-out-of-register 1 1'],
    ],
  ])('%s', async (_, faults, expected) => {
    const report = await check(faults);
    expect(told(report)).toEqual(expected);
    expect(report.verdict).toBe('differs');
  });

  it('says where, and how far', async () => {
    const report = await check([
      { kind: 'off-place', page: 13, shiftXmm: 1.5, shiftYmm: -0.75 },
      { kind: 'turned', page: 2, degrees: 180 },
    ]);
    expect(report.findings.map(({ says }) => says)).toEqual([
      'Page 2 is turned by 180 degrees clockwise: sheet 1 back, row 2, column 1.',
      expect.stringMatching(
        /^Page 13 lies 1\.(4[89]|50|51) mm across and -0\.7[456] mm down beside its place: sheet 1 front, row 2, column 2; gutter or head is wrong\.$/,
      ),
    ]);
  });

  it('measures register to a few hundredths', async () => {
    const report = await check([{ kind: 'back-off', sheet: 1, shiftXmm: 0.8, shiftYmm: -0.4 }]);
    const [finding] = report.findings;
    const { shiftXmm, shiftYmm } = finding!.measured as { shiftXmm: number; shiftYmm: number };
    expect(Math.hypot(shiftXmm - 0.8, shiftYmm + 0.4)).toBeLessThan(0.03);
  });

  it('measures register also where the sheet is tumbled between its sides', async () => {
    const tumbled = smallPlan(16, { sections: [{ pages: 16, working: 'sheetwise-tumbled' }] });
    const faults: SheetFault[] = [{ kind: 'back-off', sheet: 1, shiftXmm: 0.8, shiftYmm: -0.4 }];
    const report = await checkMade(folder, { bookPath, plan: tumbled, faults }, { from: 'given', plan: tumbled });
    expect(told(report)).toEqual(['back-out-of-register 1 1']);
    const { shiftXmm, shiftYmm } = report.findings[0]!.measured as { shiftXmm: number; shiftYmm: number };
    expect(Math.hypot(shiftXmm - 0.8, shiftYmm + 0.4)).toBeLessThan(0.03);
  });

  it('sees creep that is not as planned', async () => {
    const flat = smallPlan(16);
    const deep = smallPlan(16, { creepMm: 0.2 });
    const report = await checkMade(folder, { bookPath, plan: deep }, { from: 'given', plan: flat });
    expect(told(report)).toEqual(['creep-off-plan 1 1']);
    const { plannedMm, foundMm } = report.findings[0]!.measured as { plannedMm: number; foundMm: number };
    expect(plannedMm).toBe(0);
    expect(Math.abs(foundMm - 0.6)).toBeLessThan(0.05);
  });

  it('sees sections out of order', async () => {
    const longPath = await writeSheetBook(join(folder, 'long.pdf'), 24);
    const long = makePlan({
      pages: 24,
      trimmed: plan.trimmed,
      binding: 'sewn',
      sections: [{ pages: 8 }, { pages: 8 }, { pages: 8 }],
    });
    const faults: SheetFault[] = [{ kind: 'sheets-exchanged', sheets: [1, 3] }];
    const report = await checkMade(
      folder,
      { bookPath: longPath, plan: long, faults },
      { from: 'made', sectionPages: 8, binding: 'sewn' },
    );
    expect(told(report)).toEqual(['section-out-of-order 1 1', 'section-out-of-order 17 17']);
  });

  it('finds what is on a page as it would in a book', async () => {
    const dummyPath = await writeSheetBook(join(folder, 'signed.pdf'), 16);
    const changed = join(folder, 'changed.pdf');
    const { writeBook } = await import('../small-book.ts');
    await writeBook(
      changed,
      Array.from({ length: 16 }, () => ({ lines: ['another text'], tint: '#c33' })),
    );
    const report = await checkMade(
      folder,
      { bookPath: dummyPath, plan, otherPages: { path: changed, pages: [6] } },
      byPlan,
    );
    expect(told(report).filter((one) => !one.endsWith(' 6 6'))).toEqual([]);
    expect(report.pages.filter(({ state }) => state !== 'same-picture')).toEqual([
      expect.objectContaining({ dummyPage: 6, revisionPage: 6, state: 'differs' }),
    ]);
  });
});

describe('sheets that cannot be taken apart are refused', () => {
  it('a plan for another book', async () => {
    const other = smallPlan(8);
    expect(await laterRefusalOf(checkMade(folder, { bookPath, plan }, { from: 'given', plan: other }))).toMatchObject({
      kind: 'malformed',
      pointer: 'plan/pages',
    });
  });

  it('sheets of another number of sides', async () => {
    expect(
      await laterRefusalOf(checkMade(folder, { bookPath, plan }, { from: 'made', sectionPages: 8, binding: 'sewn' })),
    ).toMatchObject({ kind: 'malformed', expected: '4 pages, one for each side of 2 sheets', found: '2' });
  });

  it('sheets on which no page is to be recognised', async () => {
    const empty = plan.sheets[0]!.sides.flatMap(({ cells }) =>
      cells.map(({ page }) => ({ kind: 'missing' as const, page: page! })),
    );
    expect(
      await laterRefusalOf(checkMade(folder, { bookPath, plan, faults: empty, marks: NO_MARKS }, { from: 'found' })),
    ).toMatchObject({
      kind: 'unreadable',
      reason: 'no page of the dummy is to be seen',
    });
  });
});
