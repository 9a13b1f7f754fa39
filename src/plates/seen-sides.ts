import type { Box, Mm } from '../model/index.ts';
import type { Cell, Plan, PlanSheet, PlanSide } from './plan.ts';
import type { Recognised } from './recognise.ts';

/** A side of the plan, by its place in the file where everything is in order. */
export interface PlannedSide {
  readonly sheet: PlanSheet;
  readonly side: PlanSide;
}

/** A cell as it was found on a side. */
export interface SeenCell {
  readonly cell: Cell;
  /** Where the page really lies. */
  readonly box: Box;
  readonly recognised: Recognised | null;
  /** How far the page lies beside its cell; null where nothing tells it. */
  readonly offMm: MeasuredOff | null;
}

/** How far a page lies beside its cell. */
export interface MeasuredOff {
  readonly x: Mm;
  readonly y: Mm;
  /** Whether words tell it, which files place to hundredths; drawn pages are measured to half a pixel. */
  readonly byWords: boolean;
}

/** A side of the plan and the page of the file that it was found on. */
export interface SeenSide {
  readonly sheet: number;
  readonly side: PlanSide['side'];
  /** From 1. */
  readonly filePage: number;
  readonly cells: readonly SeenCell[];
}

/** The sides of a plan in the order of their file. */
export function sidesInOrder(plan: Plan): readonly PlannedSide[] {
  return plan.sheets.flatMap((sheet) => sheet.sides.map((side) => ({ sheet, side })));
}

/** Which page of the file is which side. */
export interface AssignedSides {
  /** From 1. */
  readonly filePages: readonly number[];
  /** Whether the pages on it tell so, rather than its place in the file. */
  readonly isToldByPages: readonly boolean[];
}

/**
 * Which page of the file is which side of the plan, by the pages that were recognised on it; where most do not tell, the
 * order of the file stands.
 *
 * @param seen  for each page of the file the dummy pages recognised by row and column; null where none
 * @returns for each side of the plan, in order
 */
export function assignSides(
  sides: readonly PlannedSide[],
  seen: readonly (readonly (number | null)[])[],
): AssignedSides {
  const votes = sides.flatMap(({ side }, planned) =>
    seen.map((pages, index) => ({
      planned,
      index,
      agree: side.cells.filter((cell, at) => cell.page !== null && pages[at] === cell.page).length,
      told: pages.filter((page) => page !== null).length,
    })),
  );
  const filePages = sides.map((): number | null => null);
  const taken = new Set<number>();
  const settle = (planned: number, index: number): void => {
    filePages[planned] = index + 1;
    taken.add(index);
  };
  const sure = votes.filter(({ agree, told }) => agree >= 2 && agree > told / 2);
  for (const { planned, index } of sure.sort((one, other) => other.agree - one.agree)) {
    if (filePages[planned] === null && !taken.has(index)) settle(planned, index);
  }
  const isToldByPages = filePages.map((page) => page !== null);
  sides.forEach((_, planned) => {
    if (filePages[planned] === null && !taken.has(planned)) settle(planned, planned);
  });
  const left = seen.map((_, index) => index).filter((index) => !taken.has(index));
  return { filePages: filePages.map((page) => page ?? left.shift()! + 1), isToldByPages };
}
