import type { Mm } from '../../src/model/index.ts';
import type { Cell, CellTurn, Plan } from '../../src/plates/index.ts';

/** Something that goes wrong when sheets are made up. Pages and sheets count from 1. */
export type SheetFault =
  /** Two pages stand in each other's cells. */
  | { readonly kind: 'exchanged'; readonly pages: readonly [number, number] }
  /** The cell of a page shows another one, which also stands in its own. */
  | { readonly kind: 'wrong-cell'; readonly page: number; readonly shows: number }
  | { readonly kind: 'turned'; readonly page: number; readonly degrees: 90 | 180 | 270 }
  | { readonly kind: 'missing'; readonly page: number }
  /** A page sits beside its place on its own. */
  | { readonly kind: 'off-place'; readonly page: number; readonly shiftXmm: Mm; readonly shiftYmm: Mm }
  /** Everything on the back sits beside its place, marks too. */
  | { readonly kind: 'back-off'; readonly sheet: number; readonly shiftXmm: Mm; readonly shiftYmm: Mm }
  | { readonly kind: 'sides-exchanged'; readonly sheet: number }
  | { readonly kind: 'sheets-exchanged'; readonly sheets: readonly [number, number] }
  /** The collating mark of a sheet is another section's. */
  | { readonly kind: 'wrong-mark'; readonly sheet: number; readonly markOf: number };

/** A cell as it will be made up: which page it shows, how, and how far beside its place. */
export interface MadeCell extends Cell {
  readonly shows: number | null;
  readonly shownDeg: CellTurn;
  readonly shiftXmm: Mm;
  readonly shiftYmm: Mm;
}

/** One page of the file of sheets. */
export interface MadeSide {
  readonly sheet: number;
  /** The section whose collating mark it has. */
  readonly markOf: number;
  readonly side: 'front' | 'back' | 'both';
  readonly width: Mm;
  readonly height: Mm;
  readonly shiftXmm: Mm;
  readonly shiftYmm: Mm;
  readonly cells: readonly MadeCell[];
}

/** The sides of a plan in the order of their file, faults planted. */
export function madeSides(plan: Plan, faults: readonly SheetFault[]): readonly MadeSide[] {
  const sheets = plan.sheets.map(({ sheet, width, height, sides }) =>
    sides.map(({ side, cells }): MadeSide => ({
      sheet,
      markOf: sheet,
      side,
      width,
      height,
      shiftXmm: 0,
      shiftYmm: 0,
      cells: cells.map((cell) => ({ ...cell, shows: cell.page, shownDeg: cell.turnDeg, shiftXmm: 0, shiftYmm: 0 })),
    })),
  );
  for (const fault of faults) plant(sheets, fault);
  return sheets.flat();
}

function plant(sheets: MadeSide[][], fault: SheetFault): void {
  switch (fault.kind) {
    case 'exchanged': {
      const [one, other] = fault.pages;
      changeCell(sheets, one, { shows: other });
      changeCell(sheets, other, { shows: one });
      return;
    }
    case 'wrong-cell':
      return changeCell(sheets, fault.page, { shows: fault.shows });
    case 'turned':
      return changeCell(sheets, fault.page, ({ turnDeg }) => ({
        shownDeg: ((turnDeg + fault.degrees) % 360) as CellTurn,
      }));
    case 'missing':
      return changeCell(sheets, fault.page, { shows: null });
    case 'off-place':
      return changeCell(sheets, fault.page, { shiftXmm: fault.shiftXmm, shiftYmm: fault.shiftYmm });
    case 'back-off': {
      const sides = requireSheet(sheets, fault.sheet);
      const back = sides.findIndex(({ side }) => side === 'back');
      if (back < 0) throw new Error(`sheet ${fault.sheet} has no back of its own`);
      sides[back] = { ...sides[back]!, shiftXmm: fault.shiftXmm, shiftYmm: fault.shiftYmm };
      return;
    }
    case 'sides-exchanged': {
      requireSheet(sheets, fault.sheet).reverse();
      return;
    }
    case 'sheets-exchanged': {
      const [one, other] = fault.sheets;
      const [first, second] = [requireSheet(sheets, one), requireSheet(sheets, other)];
      sheets[one - 1] = second;
      sheets[other - 1] = first;
      return;
    }
    case 'wrong-mark':
      sheets[fault.sheet - 1] = requireSheet(sheets, fault.sheet).map((side) => ({ ...side, markOf: fault.markOf }));
  }
}

function requireSheet(sheets: readonly MadeSide[][], sheet: number): MadeSide[] {
  const sides = sheets[sheet - 1];
  if (sides === undefined) throw new Error(`there is no sheet ${sheet}`);
  return sides;
}

type Change = Partial<MadeCell> | ((cell: MadeCell) => Partial<MadeCell>);

function changeCell(sheets: MadeSide[][], page: number, change: Change): void {
  for (const sides of sheets) {
    sides.forEach((side, index) => {
      const at = side.cells.findIndex((cell) => cell.page === page);
      if (at < 0) return;
      const cell = side.cells[at]!;
      const changed = { ...cell, ...(typeof change === 'function' ? change(cell) : change) };
      sides[index] = { ...side, cells: side.cells.with(at, changed) };
    });
  }
}
