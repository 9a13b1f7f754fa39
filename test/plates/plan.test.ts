import { describe, expect, it } from 'vitest';
import { formatPlan, makePlan, parseFolds, parsePlan, requirePlanFor, shareOut } from '../../src/plates/index.ts';
import type { Plan, PlanOrder } from '../../src/plates/index.ts';
import { refusalOf } from '../refusal-of.ts';

const usual: PlanOrder = {
  pages: 16,
  trimmed: { width: 240, height: 300 },
  binding: 'sewn',
  sections: [{ pages: 16 }],
};
const at = (plan: Plan, page: number) => {
  for (const sheet of plan.sheets)
    for (const side of sheet.sides)
      for (const cell of side.cells) if (cell.page === page) return { sheet: sheet.sheet, side: side.side, ...cell };
  return null;
};
/** The plan with one text put in the place of another, read back. */
const reread = (from: string | RegExp, to: string) => () => {
  const text = formatPlan(makePlan(usual));
  const changed = text.replace(from, to);
  expect(changed).not.toBe(text);
  return parsePlan(changed);
};

describe('where a page stands', () => {
  it('page 1 of a usual section is the last of the lower row on the front, with the spine at its left', () => {
    const plan = makePlan({ ...usual, trims: { headMm: 4, footMm: 5, faceMm: 6, marginMm: 20 } });
    expect(at(plan, 1)).toEqual({
      sheet: 1,
      side: 'front',
      page: 1,
      row: 2,
      column: 4,
      box: { x: 20 + 6 + 240 + 240 + 6 + 6 + 240, y: 20 + 5 + 300 + 4 + 4, width: 240, height: 300 },
      turnDeg: 0,
      creepMm: 0,
    });
    expect([plan.sheets[0]!.width, plan.sheets[0]!.height]).toEqual([40 + 24 + 960, 40 + 18 + 600]);
  });

  it('ground-off spines stand apart, unground ones touch', () => {
    const gap = (grindOffMm: number) => {
      const plan = makePlan({ ...usual, binding: 'perfect-bound', trims: { grindOffMm } });
      return at(plan, 1)!.box.x - (at(plan, 16)!.box.x + 240);
    };
    expect([gap(0), gap(3)]).toEqual([0, 6]);
  });

  it('the lip stands out at the face of the rear half alone', () => {
    // 4 | 13, 16 | 1: the cut between columns 2 and 3 lies between 13 and 16, both in the rear half
    const between = (lipMm: number) => {
      const plan = makePlan({ ...usual, trims: { faceMm: 5, lipMm, marginMm: 10 } });
      return at(plan, 16)!.box.x - at(plan, 13)!.box.x - 240;
    };
    expect([between(0), between(8)]).toEqual([10, 26]);
    expect(at(makePlan({ ...usual, trims: { lipMm: 8 } }), 4)!.box.x).toBe(at(makePlan(usual), 4)!.box.x);
  });

  it('the block stands on the gripper where one is named', () => {
    const plan = makePlan({ ...usual, sheet: { width: 1030, height: 720 }, trims: { gripperMm: 14, footMm: 5 } });
    const { box } = at(plan, 1)!;
    expect(plan.sheets[0]!.height - (box.y + box.height)).toBe(14 + 5);
  });

  it('creep moves each page towards its spine by the paper’s thickness for each leaf around it', () => {
    const plan = makePlan({ ...usual, creepMm: 0.13 });
    const plain = makePlan(usual);
    const moved = [1, 3, 5, 7, 9, 11, 13, 15].map(
      (page) => Math.round((at(plan, page)!.box.x - at(plain, page)!.box.x) * 100) / 100,
    );
    expect(moved.map(Math.abs)).toEqual([0, 0.13, 0.26, 0.39, 0.39, 0.26, 0.13, 0]);
    expect([1, 3, 5, 7].map((page) => at(plan, page)!.creepMm)).toEqual([0, 0.13, 0.26, 0.39]);
  });

  it('in a nested book creep counts all leaves around, also those of other sections', () => {
    const plan = makePlan({
      ...usual,
      pages: 32,
      binding: 'saddle-stitched',
      creepMm: 0.1,
      sections: [{ pages: 16 }, { pages: 16 }],
    });
    expect([1, 7, 9, 15, 17, 31].map((page) => Math.round(at(plan, page)!.creepMm * 10) / 10)).toEqual([
      0, 0.3, 0.4, 0.7, 0.7, 0,
    ]);
    expect(new Set(plan.sheets[0]!.sides.flatMap(({ cells }) => cells.map(({ page }) => page)))).toEqual(
      new Set([1, 2, 3, 4, 5, 6, 7, 8, 25, 26, 27, 28, 29, 30, 31, 32]),
    );
  });

  it('two sheets one inside the other make a section of theirs, creep counted through both', () => {
    const plan = makePlan({
      ...usual,
      pages: 16,
      nested: 2,
      creepMm: 0.1,
      sections: [{ pages: 4 }, { pages: 4 }, { pages: 4 }, { pages: 4 }],
    });
    const pages = plan.sheets.map(({ sides }) => sides.flatMap(({ cells }) => cells.map(({ page }) => page)));
    // as psbook -s8 puts them (psutils 1.17, run)
    expect(pages.flat()).toEqual([8, 1, 2, 7, 6, 3, 4, 5, 16, 9, 10, 15, 14, 11, 12, 13]);
    expect([1, 3, 5, 9, 12].map((page) => at(plan, page)!.creepMm)).toEqual([0, 0.1, 0.1, 0, 0.1]);
  });

  it('one forme worked and turned holds the front beside the back', () => {
    const plan = makePlan({ ...usual, pages: 8, sections: [{ pages: 8, working: 'work-and-turn' }] });
    const rows = [1, 2].map((row) =>
      plan.sheets[0]!.sides[0]!.cells.filter((cell) => cell.row === row)
        .map(({ page, turnDeg }) => `${page}${turnDeg === 0 ? '^' : 'v'}`)
        .join(' '),
    );
    expect(rows).toEqual(['5v 4v 3v 6v', '8^ 1^ 2^ 7^']);
  });

  it('sheetwise and tumbled, the back stands on its head against the front', () => {
    const plan = makePlan({ ...usual, pages: 4, sections: [{ pages: 4, working: 'sheetwise-tumbled' }] });
    const rows = plan.sheets[0]!.sides.map(({ cells }) =>
      cells.map(({ page, turnDeg }) => `${page}${turnDeg === 0 ? '^' : 'v'}`).join(' '),
    );
    expect(rows).toEqual(['4^ 1^', '3v 2v']);
  });

  it('a book of 152 pages in sixteens has nine of them, and its eight stands last but one', () => {
    expect(shareOut(152, 16, 'sewn')).toEqual([16, 16, 16, 16, 16, 16, 16, 16, 8, 16]);
    const sections = shareOut(152, 16, 'sewn').map((pages) => ({ pages }));
    const plan = makePlan({ ...usual, pages: 152, sections });
    expect([129, 136, 137].map((page) => at(plan, page)!.sheet)).toEqual([9, 9, 10]);
  });

  it('pages that are missing to a whole leaf stay blank at the end', () => {
    const plan = makePlan({ ...usual, pages: 14 });
    expect(plan.sheets[0]!.sides.map(({ cells }) => cells.filter(({ page }) => page === null).length)).toEqual([1, 1]);
  });
});

describe('a plan as a file', () => {
  it.each(['sheetwise', 'sheetwise-tumbled', 'work-and-turn', 'work-and-tumble'] as const)(
    'reads back as it was written, %s',
    (working) => {
      const plan = makePlan({
        ...usual,
        pages: 30,
        binding: 'saddle-stitched',
        creepMm: 0.125,
        sections: [{ pages: 16, working }, { pages: 16 }],
      });
      expect(parsePlan(formatPlan(plan))).toEqual(plan);
      expect(formatPlan(parsePlan(formatPlan(plan)))).toBe(formatPlan(plan));
    },
  );

  it('is refused with a page that stands twice', () => {
    expect(refusalOf(reread('"page":12,', '"page":13,'))).toEqual({
      kind: 'malformed',
      pointer: 'plan: sheet 1 front',
      expected: 'page 13 once',
      found: 'it also stands on sheet 1 front',
    });
  });

  it('is refused where cells overlap', () => {
    const [first, second] = makePlan(usual).sheets[0]!.sides[0]!.cells;
    expect(refusalOf(reread(`"x":${second!.box.x}`, `"x":${first!.box.x + 100}`))).toEqual({
      kind: 'malformed',
      pointer: 'plan: sheet 1 front, page 5',
      expected: 'cells that do not overlap',
      found: '140.0 mm over the cell of page 12',
    });
  });

  it('is refused where a leaf’s pages do not back each other', () => {
    expect(refusalOf(reread(/"page":12,(.*)\n(.*)"page":9,/, '"page":9,$1\n$2"page":12,'))).toMatchObject({
      kind: 'malformed',
      expected: 'page 10 behind it',
      found: 'it in another place',
    });
  });

  it('is refused where a cell leaves the sheet, or has another size than the page', () => {
    expect(refusalOf(reread('"width":1010,', '"width":900,'))).toMatchObject({
      kind: 'malformed',
      found: '90.0 mm over',
    });
    expect(
      refusalOf(reread('"width":240,"height":300},"turnDeg"', '"width":230,"height":300},"turnDeg"')),
    ).toMatchObject({
      expected: 'a cell of 240.0 x 300.0 mm',
      found: '230.0 x 300.0 mm',
    });
  });

  it('is refused where it is something else', () => {
    expect(refusalOf(() => parsePlan('{'))).toMatchObject({ kind: 'malformed', pointer: 'plan', expected: 'JSON' });
    expect(refusalOf(reread('"row":1', '"row":"one"'))).toMatchObject({
      pointer: 'plan/sheets/0/sides/0/cells/0/row',
      found: '"one"',
    });
    expect(refusalOf(reread('witnessleaf-plan/1', 'other/1'))).toMatchObject({ pointer: 'plan/format' });
  });

  it('is refused for a book of another length', () => {
    expect(refusalOf(() => requirePlanFor(makePlan(usual), 32))).toEqual({
      kind: 'malformed',
      pointer: 'plan/pages',
      expected: 'a plan for the dummy’s 32 pages',
      found: 'one for 16',
    });
  });
});

describe('an order that no sheet can be folded from is refused', () => {
  const sections = (...folds: string[]) => folds.map((fold) => ({ pages: 16, folds: parseFolds(fold) }));
  it.each([
    [
      'a leaf that hangs on nothing, sewn',
      { pages: 6, sections: [{ pages: 6, folds: parseFolds('R>L 1/3, L>R') }] },
      'R>L 1/3, L>R, which leaves pages 3 and 4 loose',
    ],
    [
      'folds for another count',
      { sections: [{ pages: 16, folds: parseFolds('T>B, L>R') }] },
      'T>B, L>R, which makes 8',
    ],
    ['too few sections', { pages: 40, sections: [{ pages: 16 }, { pages: 16 }] }, '16 + 16 = 32'],
    ['a section too many', { pages: 12, sections: [{ pages: 16 }] }, '16 = 16'],
    ['both reading directions', { pages: 32, sections: sections('R>L, T>B, L>R', 'L>R, T>B, R>L') }, 'both'],
    ['a section nobody folds', { pages: 20, sections: [{ pages: 20 }] }, '20'],
  ])('%s', (_, order, found) => {
    expect(refusalOf(() => makePlan({ ...usual, ...order }))).toMatchObject({ kind: 'malformed', found });
  });

  it.each(['', 'L<R', 'L>R 1/4', 'T>B', 'R>L, L>R 1/3'])('folds “%s”', (text) => {
    expect(refusalOf(() => makePlan({ ...usual, sections: [{ pages: 16, folds: parseFolds(text) }] }))).toMatchObject({
      kind: 'malformed',
      pointer: 'folds',
    });
  });

  it('loose leaves may be glued', () => {
    const plan = makePlan({
      ...usual,
      pages: 6,
      binding: 'perfect-bound',
      sections: [{ pages: 6, folds: parseFolds('R>L 1/3, L>R') }],
    });
    expect(plan.pages).toBe(6);
  });
});
