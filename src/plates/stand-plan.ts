import type { FoundSide } from './find-plan.ts';
import { planByRule, type FoldingRule } from './folding-rule.ts';
import type { CellTurn, Plan } from './plan.ts';
import { sidesInOrder } from './seen-sides.ts';

/**
 * The plan of a book by a rule, its sheets standing as they do in the file: folds say how a sheet is folded, not which of
 * its edges is up. Of what fits alike the sheet stands as it lies before the folder.
 *
 * @param found  what was recognised on each side, in whatever order they come
 * @throws {Refusal} malformed: as `planByRule`
 */
export function standPlan(
  rule: FoldingRule,
  book: { readonly pages: number; readonly trimmed: Plan['trimmed'] },
  found: readonly FoundSide[],
): Plan {
  const stands: readonly CellTurn[] = found[0]?.onSide === true ? [90, 270] : [0, 180];
  const [first, second] = stands.map((standsDeg) => planByRule({ ...rule, standsDeg }, book)) as [Plan, Plan];
  return turnedAlike(second, found) > turnedAlike(first, found) ? second : first;
}

/** How many of the recognised pages stand as a plan has them turned, wherever they stand. */
function turnedAlike(plan: Plan, found: readonly FoundSide[]): number {
  const cells = sidesInOrder(plan).flatMap(({ side }) => side.cells);
  const planned = new Map(cells.map(({ page, turnDeg }) => [page, turnDeg]));
  const seen = found.flatMap((side) => side.cells.filter((cell) => cell !== null));
  return seen.filter(({ page, turnDeg }) => planned.get(page) === turnDeg).length;
}
