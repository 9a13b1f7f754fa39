import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findPlan,
  foldingsOf,
  foldSheet,
  formatFolds,
  makePlan,
  parseFolds,
  shareOut,
} from '../../src/plates/index.ts';
import { WORKINGS } from '../../src/model/index.ts';
import type { Working } from '../../src/model/index.ts';
import type { Cell, FoundSide, Plan, PlanSheet } from '../../src/plates/index.ts';

const SECTIONS = [4, 8, 12, 16, 24, 32] as const;
const section = fc
  .constantFrom(...SECTIONS)
  .chain((pages) => fc.record({ pages: fc.constant(pages), folds: fc.constantFrom(...foldingsOf(pages)) }));
const halvedSection = fc
  .constantFrom(4, 8, 16, 32)
  .chain((pages) => fc.record({ pages: fc.constant(pages), folds: fc.constantFrom(...foldingsOf(pages)) }));
const working = fc.constantFrom<Working>(...WORKINGS);
const standsDeg = fc.constantFrom(0 as const, 90 as const, 180 as const, 270 as const);
const trims = fc.record({
  headMm: fc.integer({ min: 0, max: 8 }),
  footMm: fc.integer({ min: 0, max: 8 }),
  faceMm: fc.integer({ min: 0, max: 8 }),
  grindOffMm: fc.integer({ min: 0, max: 4 }),
  lipMm: fc.integer({ min: 0, max: 10 }),
  marginMm: fc.integer({ min: 0, max: 30 }),
});
const book = fc.record({
  binding: fc.constantFrom('sewn' as const, 'saddle-stitched' as const, 'perfect-bound' as const),
  sections: fc.array(fc.record({ section, working, standsDeg }), { minLength: 1, maxLength: 4 }),
  trims,
  creepMm: fc.constantFrom(0, 0.1, 0.13),
});

type Book = typeof book extends fc.Arbitrary<infer T> ? T : never;

function planOf({ binding, sections, trims: given, creepMm }: Book, nested = 1): Plan {
  return makePlan({
    pages: sections.reduce((sum, one) => sum + one.section.pages, 0),
    trimmed: { width: 120, height: 160 },
    binding,
    nested,
    sections: sections.map((one) => ({
      pages: one.section.pages,
      folds: parseFolds(one.section.folds),
      working: one.working,
      standsDeg: one.standsDeg,
    })),
    trims: given,
    creepMm,
  });
}

const cellsOf = (sheet: PlanSheet): Cell[] => sheet.sides.flatMap(({ cells }) => [...cells]);
const middle = ({ box }: Cell) => ({ x: box.x + box.width / 2, y: box.y + box.height / 2 });
const onPaper = (sheet: PlanSheet, cell: Cell, front: boolean) => {
  const { x, y } = middle(cell);
  if (front) return { x, y };
  return tumbles(sheet) ? { x, y: sheet.height - y } : { x: sheet.width - x, y };
};
const tumbles = (sheet: PlanSheet) => sheet.working === 'sheetwise-tumbled' || sheet.working === 'work-and-tumble';
const headOnPaper = (sheet: PlanSheet, { turnDeg }: Cell, front: boolean) => {
  const angle = (turnDeg * Math.PI) / 180;
  const [x, y] = [Math.round(Math.sin(angle)), Math.round(-Math.cos(angle))];
  if (front) return `${x + 0} ${y + 0}`;
  return tumbles(sheet) ? `${x + 0} ${-y + 0}` : `${-x + 0} ${y + 0}`;
};

describe('however a book is folded', () => {
  it('every page stands on its sheets exactly once', () => {
    fc.assert(
      fc.property(book, (given) => {
        const plan = planOf(given);
        const pages = plan.sheets.flatMap(cellsOf).map(({ page }) => page!);
        expect(pages.sort((a, b) => a - b)).toEqual(Array.from({ length: plan.pages }, (_, index) => index + 1));
      }),
    );
  });

  it('pages 2k-1 and 2k lie back to back, in the middle of the same piece of paper', () => {
    fc.assert(
      fc.property(book, (given) => {
        for (const sheet of planOf(given).sheets) {
          const cells = cellsOf(sheet);
          for (const odd of cells.filter(({ page }) => page! % 2 === 1)) {
            const even = cells.find(({ page }) => page === odd.page! + 1)!;
            const [front, back] = [onPaper(sheet, odd, true), onPaper(sheet, even, false)];
            expect(front.x).toBeCloseTo(back.x, 6);
            expect(front.y).toBeCloseTo(back.y, 6);
            expect(headOnPaper(sheet, odd, true)).toBe(headOnPaper(sheet, even, false));
          }
        }
      }),
    );
  });

  it('it is found again from its pages, wherever each stands', () => {
    fc.assert(
      fc.property(book, fc.integer({ min: 1, max: 3 }), (given, nested) => {
        const sections = given.sections.map((one) => ({ ...one, ...given.sections[0]!, section: one.section }));
        const plan = planOf({ ...given, sections, binding: 'sewn', creepMm: 0 }, nested);
        const found = plan.sheets.flatMap(({ sides }) => sides.map(({ cells }) => asFound(cells)));
        const again = findPlan(found, { pages: plan.pages, trimmed: plan.trimmed });
        const placesOf = ({ sheets }: Plan) =>
          sheets.map(({ sides }) => sides.map(({ cells }) => cells.map(({ page, turnDeg }) => `${page} ${turnDeg}`)));
        expect(placesOf(again.plan)).toEqual(placesOf(plan));
        expect(again.agreeing).toBe(plan.pages);
      }),
    );
  });

  it('the pages that meet at a spine of a nested book add up to one more than it has', () => {
    fc.assert(
      fc.property(book, (given) => {
        const plan = planOf({
          ...given,
          binding: 'saddle-stitched',
          trims: { ...given.trims, grindOffMm: 0 },
          creepMm: 0,
        });
        const open = plan.sheets.flatMap(spreads);
        expect(open.length).toBe(plan.pages / 2);
        expect(open.filter(([one, other]) => one + other !== plan.pages + 1)).toEqual([]);
      }),
    );
  });

  it('the pages that meet at a spine of a sewn book add up to one more than its section’s first and last page make', () => {
    fc.assert(
      fc.property(section, fc.integer({ min: 1, max: 5 }), ({ pages, folds }, count) => {
        const plan = makePlan({
          pages: pages * count,
          trimmed: { width: 120, height: 160 },
          binding: 'sewn',
          sections: Array.from({ length: count }, () => ({ pages, folds: parseFolds(folds) })),
        });
        plan.sheets.forEach((sheet, index) => {
          const sums = spreads(sheet).map(([one, other]) => one + other);
          expect(new Set(sums)).toEqual(new Set([(2 * index + 1) * pages + 1]));
        });
      }),
    );
  });

  it('heads meet heads and feet meet feet from row to row, and a row’s heads all point one way', () => {
    fc.assert(
      fc.property(section, ({ folds }) => {
        const { rows, columns, leaves } = foldSheet(parseFolds(folds));
        const up = (row: number): boolean[] => leaves.filter((leaf) => leaf.row === row).map(({ headUp }) => headUp);
        for (let row = 0; row < rows; row++) {
          expect(up(row)).toHaveLength(columns);
          expect(new Set(up(row)).size).toBe(1);
          if (row > 0) expect(up(row)[0]).toBe(!up(row - 1)[0]);
        }
      }),
    );
  });

  it('folded by halves, the side with page 1 holds the pages that leave 0 or 1 over when divided by four', () => {
    fc.assert(
      fc.property(halvedSection, ({ pages, folds }) => {
        const { leaves } = foldSheet(parseFolds(folds));
        const front = leaves.map((leaf, index) => 2 * index + (leaf.oddPageOn === 'front' ? 1 : 2));
        expect(front.filter((page) => page % 4 > 1)).toEqual([]);
        expect(front.reduce((sum, page) => sum + page, 0)).toBe((pages / 4) * (pages + 1));
      }),
    );
  });

  it('every leaf hangs on its spine, and the folds read back as they were written', () => {
    fc.assert(
      fc.property(section, ({ pages, folds }) => {
        const parsed = parseFolds(folds);
        const { leaves } = foldSheet(parsed);
        expect(leaves.filter(({ joined }) => !joined)).toEqual([]);
        expect(leaves).toHaveLength(pages / 2);
        expect(formatFolds(parsed)).toBe(folds);
      }),
    );
  });

  it('a book of any length is shared out into sections with less than a leaf left blank', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 600 }),
        fc.constantFrom(...SECTIONS),
        fc.constantFrom('sewn' as const, 'saddle-stitched' as const),
        (pages, size, binding) => {
          const held = shareOut(pages, size, binding).reduce((sum, one) => sum + one, 0);
          expect(held - pages).toBeGreaterThanOrEqual(0);
          expect(held - pages).toBeLessThan(4);
        },
      ),
    );
  });
});

/** A side as it is seen when every page is recognised. */
function asFound(cells: readonly Cell[]): FoundSide {
  return {
    rows: Math.max(...cells.map(({ row }) => row)),
    columns: Math.max(...cells.map(({ column }) => column)),
    onSide: cells[0]!.turnDeg % 180 === 90,
    cells: cells.map(({ page, turnDeg }) => ({ page: page!, turnDeg })),
  };
}

/** Pairs of pages side by side with nothing cut between them; one above the other where they lie on their sides. */
function spreads(sheet: PlanSheet): (readonly [number, number])[] {
  return sheet.sides.flatMap(({ cells }) =>
    cells.flatMap((left) => {
      const right = cells.find(({ row, column }) =>
        left.turnDeg % 180 === 90
          ? column === left.column && row === left.row + 1 && left.row % 2 === 1
          : row === left.row && column === left.column + 1 && left.column % 2 === 1,
      );
      return right === undefined ? [] : [[left.page!, right.page!] as const];
    }),
  );
}
