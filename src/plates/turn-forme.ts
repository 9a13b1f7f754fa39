import type { Box, Mm } from '../model/index.ts';
import type { Cell, CellTurn } from './plan.ts';

/** The cells of a side, and what they stand on. */
export interface Forme {
  readonly width: Mm;
  readonly height: Mm;
  readonly rows: number;
  readonly columns: number;
  readonly cells: readonly Cell[];
}

/** A side as it is looked at when its sheet has been turned clockwise in its own plane. */
export function turnForme(forme: Forme, turnDeg: CellTurn): Forme {
  let turned = forme;
  for (let quarters = turnDeg / 90; quarters > 0; quarters--) turned = quarterTurned(turned);
  return turned;
}

function quarterTurned({ width, height, rows, columns, cells }: Forme): Forme {
  return {
    width: height,
    height: width,
    rows: columns,
    columns: rows,
    cells: cells.map((cell): Cell => {
      const { x, y, width: across, height: down } = cell.box;
      const box: Box = { x: height - y - down, y: x, width: down, height: across };
      const turnDeg = ((cell.turnDeg + 90) % 360) as CellTurn;
      return { ...cell, row: cell.column, column: rows + 1 - cell.row, box, turnDeg };
    }),
  };
}
