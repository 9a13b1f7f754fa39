import type { MarkedGrid } from './crop-marks.ts';
import type { Cell, Plan, PlanSheet } from './plan.ts';

/**
 * A plan from rules with its cells put where the sheets have their columns and rows; creep and which page stands where
 * stay as they were.
 *
 * @param grids  one for each side of the plan in order; null leaves a side's cells
 * @param papers  the size of each side's page in the file
 */
export function placePlan(
  plan: Plan,
  grids: readonly (MarkedGrid | null)[],
  papers: readonly { readonly width: number; readonly height: number }[],
): Plan {
  let at = 0;
  const sheets = plan.sheets.map((sheet): PlanSheet => {
    const paper = papers[at] ?? sheet;
    const sides = sheet.sides.map((side) => {
      const grid = grids[at++] ?? null;
      return grid === null ? side : { ...side, cells: side.cells.map((cell) => placed(cell, grid)) };
    });
    return { ...sheet, width: paper.width, height: paper.height, sides };
  });
  return { ...plan, sheets };
}

function placed(cell: Cell, { columnsMm, rowsMm }: MarkedGrid): Cell {
  const x = columnsMm[cell.column - 1];
  const y = rowsMm[cell.row - 1];
  return x === undefined || y === undefined ? cell : { ...cell, box: { ...cell.box, x, y } };
}

/** Whether a side's grid has the columns and rows that the plan's side has, its pages lying the same way. */
export function fitsGrid(cells: readonly Cell[], { columnsMm, rowsMm, onSide }: MarkedGrid): boolean {
  return (
    cells.every(({ turnDeg }) => (turnDeg % 180 === 90) === onSide) &&
    Math.max(...cells.map(({ column }) => column)) === columnsMm.length &&
    Math.max(...cells.map(({ row }) => row)) === rowsMm.length
  );
}
