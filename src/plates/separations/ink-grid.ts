import type { Box } from '../../model/index.ts';
import type { Grey } from '../grey.ts';
import { pixelPart, uprightPart } from '../grey.ts';
import type { CellTurn } from '../plan.ts';

/** How much ink a plate has over a page, cell by cell, row by row from the top left: 0 none to 255 full. */
export type InkGrid = Uint8Array;

/** Cells over a page, or over several one after the other. */
export interface CellCount {
  readonly columns: number;
  readonly rows: number;
}

/**
 * A page's ink on one plate, upright.
 *
 * @param plate  ink as darkness
 */
export function inkGrid(plate: Grey, box: Box, turnDeg: CellTurn, { columns, rows }: CellCount): InkGrid {
  const { width, height, data } = uprightPart(plate, pixelPart(box, plate.pxPerMm), turnDeg);
  const grid = new Uint8Array(columns * rows);
  const edges = (cell: number, cells: number, pixels: number): readonly [number, number] => {
    const from = Math.floor((cell * pixels) / cells);
    return [from, Math.max(from + 1, Math.floor(((cell + 1) * pixels) / cells))];
  };
  for (let row = 0; row < rows; row++) {
    const [top, bottom] = edges(row, rows, height);
    for (let column = 0; column < columns; column++) {
      const [left, right] = edges(column, columns, width);
      let sum = 0;
      for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) sum += data[y * width + x] ?? 255;
      grid[row * columns + column] = Math.round(255 - sum / ((bottom - top) * (right - left)));
    }
  }
  return grid;
}
