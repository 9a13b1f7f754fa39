import { parseFolds, type Fold } from './fold.ts';
import { makePlan } from './make-plan.ts';
import type { Binding, Plan, Working } from './plan.ts';
import { shareOut } from './sections.ts';

/** How a whole book is folded, in a few words: as many sections as go in, what is left over in smaller ones. */
export interface FoldingRule {
  readonly sectionPages: number;
  readonly binding: Binding;
  /** Of whole sections; the usual ones where absent. */
  readonly folds?: readonly Fold[];
  /** Of every sheet; sheetwise where absent. */
  readonly working?: Working;
}

/**
 * Reads what people write of a section: `16`, its pages, or its folds, `R>L, T>B, L>R`.
 *
 * @throws {Refusal} malformed: as `parseFolds`
 */
export function parseSection(text: string): Pick<FoldingRule, 'sectionPages' | 'folds'> {
  if (/^\s*\d{1,4}\s*$/.test(text)) return { sectionPages: Number(text) };
  const folds = parseFolds(text);
  const cells = folds.reduce((product, { share }) => product * (share === 2 ? 2 : 1.5), 1);
  return { sectionPages: 2 * cells, folds };
}

/**
 * The plan of a book by a rule.
 *
 * @throws {Refusal} malformed: as `makePlan`
 */
export function planByRule(
  { sectionPages, binding, folds, working = 'sheetwise' }: FoldingRule,
  book: { readonly pages: number; readonly trimmed: Plan['trimmed'] },
): Plan {
  const sections = shareOut(book.pages, sectionPages, binding).map((pages) =>
    folds !== undefined && pages === sectionPages ? { pages, folds, working } : { pages, working },
  );
  return makePlan({ ...book, binding, sections });
}
