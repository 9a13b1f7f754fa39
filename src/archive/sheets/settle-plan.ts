import type { ReportSheets } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import {
  assignSides,
  findPlan,
  fitsGrid,
  orderByMarks,
  placePlan,
  requirePlanFor,
  sidesInOrder,
  standPlan,
} from '../../plates/index.ts';
import type { MarkedSheet, OrderedSides, Plan } from '../../plates/index.ts';
import { locatePages } from './locate-pages.ts';
import type { ReadSide, SheetsRead } from './read-sheets.ts';
import { recognisedAt, recognisedOn } from './recognised-on-side.ts';
import type { CheckedSheets, PlanChoice } from './sheets-request.ts';

/** The plan with its cells where the sheets have them, and which page of the file is which side. */
export interface SettledPlan {
  readonly plan: Plan;
  /** For each side of the plan in order, from 1. */
  readonly filePages: readonly number[];
  readonly located: ReportSheets['located'];
  /** Collating marks, and the sheets they stand on. */
  readonly marks: readonly MarkedSheet[];
  readonly agreement: CheckedSheets['agreement'];
}

/**
 * Settles which plan the sheets follow, where its cells lie, and in which order its sides stand in the file.
 *
 * @param by  which page of the file is which side: by the pages seen on it, or in the order they were sent in
 * @throws {Refusal} malformed: a plan for another book, other sheets than the plan has, or sheets that tell no plan
 */
export function settlePlan(choice: PlanChoice, read: SheetsRead, by: 'seen' | 'sent' = 'seen'): SettledPlan {
  const { pages, trimmed, sides } = read;
  const order = (plan: Plan): OrderedSides =>
    by === 'sent' ? { filePages: sides.map((_, index) => index + 1), marks: [] } : orderOf(plan, read);
  if (choice.from === 'given') {
    requirePlanFor(choice.plan, pages.length);
    requireSides(choice.plan, sides);
    const plan = centred(choice.plan, sides);
    return { plan, ...order(plan), located: 'plan', agreement: null };
  }
  const { grids, located } = locatePages(read);
  const recognised = grids.map((grid, index) => recognisedOn(read, index, grid));
  const book = { pages: pages.length, trimmed };
  let plan: Plan;
  let agreement: CheckedSheets['agreement'] = null;
  if (choice.from === 'made') {
    plan = standPlan(choice, book, recognised);
  } else {
    const found = findPlan(recognised, book);
    ({ plan } = found);
    agreement = { agreeing: found.agreeing, recognised: found.recognised };
  }
  requireSides(plan, sides);
  sidesInOrder(plan).forEach(({ sheet, side }, index) => {
    const grid = grids[index]!;
    if (fitsGrid(side.cells, grid)) return;
    const most = (of: 'row' | 'column'): number => Math.max(...side.cells.map((cell) => cell[of]));
    throw new Refusal('malformed', {
      pointer: `sheet ${sheet.sheet} ${side.side}`,
      expected: `${most('column')} columns and ${most('row')} rows of pages`,
      found: `${grid.columnsMm.length} and ${grid.rowsMm.length}${grid.onSide ? ', on their sides' : ''}`,
    });
  });
  const first = placePlan(plan, grids, sides);
  const { filePages, marks } = order(first);
  const own = <T>(list: readonly T[]): readonly T[] => filePages.map((page) => list[page - 1]!);
  return { plan: placePlan(plan, own(grids), own(sides)), filePages, marks, located, agreement };
}

function requireSides(plan: Plan, sides: readonly ReadSide[]): void {
  const planned = sidesInOrder(plan).length;
  if (planned === sides.length) return;
  throw new Refusal('malformed', {
    pointer: 'sheets',
    expected: `${planned} pages, one for each side of ${plan.sheets.length} sheets`,
    found: `${sides.length}`,
  });
}

/** A page of the file that is larger or smaller than the plan's sheet has it in its middle. */
function centred(plan: Plan, sides: readonly ReadSide[]): Plan {
  let at = 0;
  return {
    ...plan,
    sheets: plan.sheets.map((sheet) => {
      const { width, height } = sides[at] ?? sheet;
      const [x, y] = [(width - sheet.width) / 2, (height - sheet.height) / 2];
      at += sheet.sides.length;
      return {
        ...sheet,
        width,
        height,
        sides: sheet.sides.map((side) => ({
          ...side,
          cells: side.cells.map((cell) => ({ ...cell, box: { ...cell.box, x: cell.box.x + x, y: cell.box.y + y } })),
        })),
      };
    }),
  };
}

/** By the pages seen on the sides, and by collating marks where these tell nothing. */
function orderOf(plan: Plan, read: SheetsRead): OrderedSides {
  const planned = sidesInOrder(plan);
  const seen = planned.map(({ side }, index) =>
    side.cells.map(({ box, turnDeg }) => recognisedAt(read, index, box, turnDeg)?.page ?? null),
  );
  const greys = read.sides.map(({ grey }) => grey);
  return orderByMarks(plan, assignSides(planned, seen), greys);
}
