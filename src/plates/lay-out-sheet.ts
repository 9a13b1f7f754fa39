import type { Mm, Working } from '../model/index.ts';
import type { FoldedSheet } from './fold.ts';
import type { FormeLayout } from './forme.ts';
import type { Cell, CellTurn, PlanSheet } from './plan.ts';
import { turnForme } from './turn-forme.ts';
import type { Forme } from './turn-forme.ts';

/** What a sheet of a plan is laid out from. */
export interface SheetTask {
  /** Its number, from 1. */
  readonly sheet: number;
  readonly folded: FoldedSheet;
  readonly layout: FormeLayout;
  readonly working: Working;
  /** How its front is turned in the file, clockwise, against the way it lies before the folder. */
  readonly standsDeg: CellTurn;
  /** The pages that its leaves carry, in order; those over `pages` are blanks. */
  readonly numbers: readonly number[];
  /** Of the book. */
  readonly pages: number;
  readonly creepOf: (leaf: number) => Mm;
}

/**
 * Puts the pages of a folded sheet on its sides, as they are looked at when the sheet was turned as it is worked: about its
 * upright axis, or tumbled about its level one, as the sheet stands in the file.
 */
export function layOutSheet(task: SheetTask): PlanSheet {
  const { sheet, working, standsDeg } = task;
  const front = formeOf('front', task);
  const back = formeOf('back', task);
  const make = (sides: readonly (readonly [PlanSheet['sides'][number]['side'], Forme])[]): PlanSheet => ({
    sheet,
    working,
    width: sides[0]![1].width,
    height: sides[0]![1].height,
    sides: sides.map(([side, { cells }]) => ({ side, cells: inReadingOrder(cells) })),
  });
  switch (working) {
    case 'sheetwise':
      return make([
        ['front', turnForme(front, standsDeg)],
        ['back', turnForme(back, clockwise(-standsDeg))],
      ]);
    case 'sheetwise-tumbled':
      return make([
        ['front', turnForme(front, standsDeg)],
        ['back', turnForme(back, clockwise(180 - standsDeg))],
      ]);
    case 'work-and-turn':
    case 'work-and-tumble': {
      // lying on its side, what is upright of the axis is level before the folder
      const isBeside = (working === 'work-and-turn') === (standsDeg % 180 === 0);
      const both = isBeside ? beside(front, back) : above(front, turnForme(back, 180));
      return make([['both', turnForme(both, standsDeg)]]);
    }
  }
}

function clockwise(degrees: number): CellTurn {
  return ((degrees + 360) % 360) as CellTurn;
}

function beside(left: Forme, right: Forme): Forme {
  const moved = right.cells.map((cell) => ({
    ...cell,
    column: cell.column + left.columns,
    box: { ...cell.box, x: cell.box.x + left.width },
  }));
  return {
    ...left,
    width: left.width + right.width,
    columns: left.columns + right.columns,
    cells: [...left.cells, ...moved],
  };
}

function above(upper: Forme, lower: Forme): Forme {
  const moved = lower.cells.map((cell) => ({
    ...cell,
    row: cell.row + upper.rows,
    box: { ...cell.box, y: cell.box.y + upper.height },
  }));
  return {
    ...upper,
    height: upper.height + lower.height,
    rows: upper.rows + lower.rows,
    cells: [...upper.cells, ...moved],
  };
}

/** A side upright; the back as it is looked at after the sheet was turned left over right. */
function formeOf(side: 'front' | 'back', { folded, layout, numbers, pages, creepOf }: SheetTask): Forme {
  const { rows, columns, leaves } = folded;
  const cells = leaves.map((leaf, index): Cell => {
    const page = numbers[2 * index + (leaf.oddPageOn === side ? 0 : 1)]!;
    const creepMm = creepOf(index);
    const own = layout.frontBox(leaf);
    const x = own.x + (leaf.spine === 'left' ? -1 * creepMm : creepMm);
    return {
      page: page > pages ? null : page,
      row: leaf.row + 1,
      column: side === 'front' ? leaf.column + 1 : columns - leaf.column,
      box: { ...own, x: side === 'front' ? x : layout.width - x - own.width },
      turnDeg: leaf.headUp ? 0 : 180,
      creepMm,
    };
  });
  return { width: layout.width, height: layout.height, rows, columns, cells };
}

function inReadingOrder(cells: readonly Cell[]): readonly Cell[] {
  return [...cells].sort((one, other) => one.row - other.row || one.column - other.column);
}
