import type { Binding, Working } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import { foldSheet, parseFolds } from './fold.ts';
import type { FoldedSheet } from './fold.ts';
import { makePlan } from './make-plan.ts';
import type { CellTurn, Plan } from './plan.ts';
import { foldingsOf, pagesOfSections } from './sections.ts';

/** What was recognised on a page of the file: by row and column, from the top left. */
export interface FoundSide {
  readonly rows: number;
  readonly columns: number;
  readonly cells: readonly ({ readonly page: number; readonly turnDeg: CellTurn } | null)[];
}

/** A plan that the sheets tell, to be confirmed by a person. */
export interface FoundPlan {
  readonly plan: Plan;
  /** Cells that agree with it, and cells in which a page was recognised. */
  readonly agreeing: number;
  readonly recognised: number;
}

/** Fewer that agree is chance or another book. */
const LEAST_SHARE = 0.6;

interface Scheme {
  readonly folds: string;
  readonly working: Working;
}

/**
 * Finds the plan that sheets were made up by: of all foldings, workings and bindings that make such sheets the one that
 * most recognised pages agree with.
 *
 * @param book  the dummy's pages and their size
 * @throws {Refusal} malformed: no plan agrees with most of what was recognised; the plan has to be given
 */
export function findPlan(
  found: readonly FoundSide[],
  book: { readonly pages: number; readonly trimmed: Plan['trimmed'] },
): FoundPlan {
  const recognised = found.flatMap(({ cells }) => cells.filter((cell) => cell !== null)).length;
  let best: { readonly agreeing: number; readonly binding: Binding; readonly schemes: readonly Scheme[] } | null = null;
  for (const twoSided of [true, false]) {
    const sheets = twoSided ? paired(found) : found.map((side) => [side]);
    if (sheets === null) continue;
    const sizes = sheets.map((sides) => sides.reduce((sum, { cells }) => sum + cells.length, 0));
    const held = sizes.reduce((sum, size) => sum + size, 0);
    if (held < book.pages || held - book.pages >= 4) continue;
    for (const binding of ['sewn', 'saddle-stitched'] as const) {
      const numbers = pagesOfSections(sizes, binding);
      const chosen = sheets.map((sides, index) => bestScheme(sides, numbers[index]!, twoSided));
      if (chosen.some((scheme) => scheme === null)) continue;
      const agreeing = chosen.reduce((sum, scheme) => sum + scheme!.agreeing, 0);
      if (best === null || agreeing > best.agreeing) best = { agreeing, binding, schemes: chosen.map((one) => one!) };
    }
  }
  if (best === null || recognised === 0 || best.agreeing < LEAST_SHARE * recognised) {
    throw new Refusal('malformed', {
      pointer: 'plan',
      expected: 'sheets that tell how they are folded; give the plan or the folds',
      found: `${best?.agreeing ?? 0} of ${recognised} recognised pages in their place at best`,
    });
  }
  const sections = best.schemes.map(({ folds, working }) => {
    const parsed = parseFolds(folds);
    return { pages: 2 * foldSheet(parsed).leaves.length, folds: parsed, working };
  });
  const plan = makePlan({ ...book, binding: best.binding, sections });
  return { plan, agreeing: best.agreeing, recognised };
}

function paired(found: readonly FoundSide[]): (readonly FoundSide[])[] | null {
  if (found.length % 2 === 1) return null;
  return Array.from({ length: found.length / 2 }, (_, index) => [found[2 * index]!, found[2 * index + 1]!]);
}

function bestScheme(
  sides: readonly FoundSide[],
  numbers: readonly number[],
  twoSided: boolean,
): (Scheme & { readonly agreeing: number }) | null {
  const [first] = sides;
  if (first === undefined || sides.some((side) => side.rows !== first.rows || side.columns !== first.columns))
    return null;
  const workings: readonly Working[] = twoSided ? ['sheetwise'] : ['work-and-turn', 'work-and-tumble'];
  let best: (Scheme & { readonly agreeing: number }) | null = null;
  for (const folds of foldingsOf(numbers.length)) {
    const sheet = foldSheet(parseFolds(folds));
    for (const working of workings) {
      const rows = working === 'work-and-tumble' ? 2 * sheet.rows : sheet.rows;
      const columns = working === 'work-and-turn' ? 2 * sheet.columns : sheet.columns;
      if (rows !== first.rows || columns !== first.columns) continue;
      const agreeing = agreementOf(sides, numbers, sheet, working);
      if (best === null || agreeing > best.agreeing) best = { folds, working, agreeing };
    }
  }
  return best;
}

function agreementOf(
  sides: readonly FoundSide[],
  numbers: readonly number[],
  sheet: FoldedSheet,
  working: Working,
): number {
  let agreeing = 0;
  sheet.leaves.forEach((leaf, index) => {
    for (const name of ['front', 'back'] as const) {
      const page = numbers[2 * index + (leaf.oddPageOn === name ? 0 : 1)];
      const upright = leaf.headUp ? 0 : 180;
      const ownColumn = name === 'front' ? leaf.column : sheet.columns - 1 - leaf.column;
      const at =
        name === 'front' || working === 'sheetwise'
          ? { row: leaf.row, column: ownColumn, turnDeg: upright }
          : working === 'work-and-turn'
            ? { row: leaf.row, column: sheet.columns + ownColumn, turnDeg: upright }
            : {
                row: 2 * sheet.rows - 1 - leaf.row,
                column: sheet.columns - 1 - ownColumn,
                turnDeg: 180 - upright,
              };
      const side = sides[working === 'sheetwise' && name === 'back' ? 1 : 0]!;
      const cell = side.cells[at.row * side.columns + at.column];
      if (cell?.page === page && cell?.turnDeg === at.turnDeg) agreeing += 1;
    }
  });
  return agreeing;
}
