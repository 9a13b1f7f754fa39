import type { Binding, SaidFolds, Working } from '../model/index.ts';
import { parseFolds, type Fold } from './fold.ts';
import { makePlan } from './make-plan.ts';
import type { CellTurn, Plan } from './plan.ts';
import { shareOut } from './sections.ts';

/** How a whole book is folded, in a few words: as many sections as go in, what is left over in smaller ones. */
export interface FoldingRule {
  readonly sectionPages: number;
  readonly binding: Binding;
  /** Of whole sections; the usual ones where absent. */
  readonly folds?: readonly Fold[];
  /** Of every sheet; sheetwise where absent. */
  readonly working?: Working;
  /** As `SectionOrder` has it, of every sheet. */
  readonly standsDeg?: CellTurn;
}

/**
 * The rule that people say: of a section its pages, `16`, or its folds, `R>L, T>B, L>R`.
 *
 * @throws {Refusal} malformed: as `parseFolds`
 */
export function parseRule({ fold, bound, working }: SaidFolds): FoldingRule {
  const rule = { binding: bound, working };
  if (/^\s*\d{1,4}\s*$/.test(fold)) return { ...rule, sectionPages: Number(fold) };
  const folds = parseFolds(fold);
  const cells = folds.reduce((product, { share }) => product * (share === 2 ? 2 : 1.5), 1);
  return { ...rule, sectionPages: 2 * cells, folds };
}

/**
 * The plan of a book by a rule.
 *
 * @throws {Refusal} malformed: as `makePlan`
 */
export function planByRule(
  { sectionPages, binding, folds, working = 'sheetwise', standsDeg = 0 }: FoldingRule,
  book: { readonly pages: number; readonly trimmed: Plan['trimmed'] },
): Plan {
  const sections = shareOut(book.pages, sectionPages, binding).map((pages) =>
    folds !== undefined && pages === sectionPages
      ? { pages, folds, working, standsDeg }
      : { pages, working, standsDeg },
  );
  return makePlan({ ...book, binding, sections });
}
