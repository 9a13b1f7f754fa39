import type { Binding, Box, Mm, Working } from '../model/index.ts';

/** How a page is turned on the sheet, clockwise. */
export type CellTurn = 0 | 90 | 180 | 270;

/** One page's place on a side. */
export interface Cell {
  /** The page that stands there, from 1; null for a blank behind the last page. */
  readonly page: number | null;
  /** From 1 at the top, and from 1 at the left, as this side is looked at. */
  readonly row: number;
  readonly column: number;
  /** Where its trimmed area lies: mm from the sheet's top left corner, y down, creep included. */
  readonly box: Box;
  readonly turnDeg: CellTurn;
  /** How far it was moved towards the spine, so that inner leaves end with the outer ones at the trim. */
  readonly creepMm: Mm;
}

/** One side of a sheet. */
export interface PlanSide {
  /** `both`: one forme that prints front and back. */
  readonly side: 'front' | 'back' | 'both';
  readonly cells: readonly Cell[];
}

/** One sheet, and the section that it folds to. */
export interface PlanSheet {
  /** From 1, as sections are gathered; the outermost first where they are nested. */
  readonly sheet: number;
  readonly working: Working;
  readonly width: Mm;
  readonly height: Mm;
  readonly sides: readonly PlanSide[];
}

/** What stands where on the sheets of a book: `witnessleaf-plan/1`. */
export interface Plan {
  readonly format: 'witnessleaf-plan/1';
  /** Pages of the book, blanks behind the last one not counted. */
  readonly pages: number;
  readonly binding: Binding;
  readonly reads: 'left-to-right' | 'right-to-left';
  readonly trimmed: { readonly width: Mm; readonly height: Mm };
  readonly sheets: readonly PlanSheet[];
}
