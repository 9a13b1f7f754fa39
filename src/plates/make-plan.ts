import type { Binding, Mm, Working } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import type { Fold, FoldedSheet } from './fold.ts';
import { foldSheet, formatFolds } from './fold.ts';
import { layOutForme, USUAL_TRIMS, type Trims } from './forme.ts';
import { layOutSheet } from './lay-out-sheet.ts';
import type { CellTurn, Plan, PlanSheet } from './plan.ts';
import { requireSoundPlan } from './sound-plan.ts';
import { pagesOfSections, usualFolds } from './sections.ts';

/** How one section is made. */
export interface SectionOrder {
  readonly pages: number;
  /** The usual ones where absent. */
  readonly folds?: readonly Fold[];
  readonly working?: Working;
  /** How the front is turned in the file, clockwise; as it lies before the folder where absent. */
  readonly standsDeg?: CellTurn;
}

/** What a plan is made of. */
export interface PlanOrder {
  /** Of the book. */
  readonly pages: number;
  readonly trimmed: { readonly width: Mm; readonly height: Mm };
  readonly binding: Binding;
  /** In sequence; for a saddle-stitched book from the outermost. */
  readonly sections: readonly SectionOrder[];
  /** How many of these lie one inside the other as one section, where they are in sequence; one where absent. */
  readonly nested?: number;
  readonly trims?: Partial<Trims>;
  /** The paper before folding; as large as it must be where absent. For one forme that prints both sides, half of it. */
  readonly sheet?: { readonly width: Mm; readonly height: Mm };
  /** How much further each bifolio stands out than the one around it: the paper's thickness. */
  readonly creepMm?: Mm;
}

/**
 * Makes the plan of a book from the rules of folding.
 *
 * @throws {Refusal} malformed: sections that hold fewer pages than the book, or a whole leaf more; folds that make
 * another number of pages, leave a leaf loose that is not glued, or do not all read in one direction; a sheet too small
 * @source common practice, no source; what must hold of every plan is held against test/standards/folding
 */
export function makePlan(order: PlanOrder): Plan {
  const { pages, binding, trimmed } = order;
  const sizes = order.sections.map((section) => section.pages);
  const held = sizes.reduce((sum, size) => sum + size, 0);
  if (held < pages || held - pages >= 4) {
    throw new Refusal('malformed', {
      pointer: 'sections',
      expected: `sections for ${pages} pages`,
      found: `${sizes.join(' + ') || 0} = ${held}`,
    });
  }
  const folded = order.sections.map((section) => foldSection(section, binding));
  const reads = new Set(folded.map((sheet) => sheet.reads));
  if (reads.size > 1) {
    throw new Refusal('malformed', { pointer: 'sections', expected: 'one reading direction', found: 'both' });
  }
  const bifolios = held / 4;
  const numbered = pagesOfSections(sizes, binding, order.nested);
  const sheets = numbered.map((numbers, index): PlanSheet => {
    const section = order.sections[index]!;
    const sheet = folded[index]!;
    const layout = layOutForme(sheet, trimmed, { ...USUAL_TRIMS, ...order.trims }, order.sheet);
    const around = leavesAround(order, sizes, index);
    const bifolio = (leaf: number): number => around + Math.min(leaf, sheet.leaves.length - 1 - leaf);
    return layOutSheet({
      sheet: index + 1,
      folded: sheet,
      layout,
      working: section.working ?? 'sheetwise',
      standsDeg: section.standsDeg ?? 0,
      numbers,
      pages,
      creepOf: (leaf) => (order.creepMm ?? 0) * bifolio(leaf),
    });
  });
  if (bifolios < 1) throw new Refusal('malformed', { pointer: 'pages', expected: 'a page', found: 'none' });
  const plan: Plan = {
    format: 'witnessleaf-plan/1',
    pages,
    binding,
    reads: [...reads][0] ?? 'left-to-right',
    trimmed,
    sheets,
  };
  requireSoundPlan(plan);
  return plan;
}

/** How many leaves lie outside of a sheet in its section, on either side. */
function leavesAround({ binding, nested = 1 }: PlanOrder, sizes: readonly number[], index: number): number {
  const first = binding === 'saddle-stitched' ? 0 : index - (index % nested);
  return sizes.slice(first, index).reduce((sum, size) => sum + size / 4, 0);
}

function foldSection({ pages, folds = usualFolds(pages) }: SectionOrder, binding: Binding): FoldedSheet {
  const sheet = foldSheet(folds);
  const made = 2 * sheet.leaves.length;
  if (made !== pages) {
    throw new Refusal('malformed', {
      pointer: 'sections',
      expected: `folds that make ${pages} pages`,
      found: `${formatFolds(folds)}, which makes ${made}`,
    });
  }
  const loose = sheet.leaves.findIndex(({ joined }) => !joined);
  if (loose >= 0 && binding !== 'perfect-bound') {
    throw new Refusal('malformed', {
      pointer: 'sections',
      expected: `folds that join every leaf at the spine, for a ${binding} book`,
      found: `${formatFolds(folds)}, which leaves pages ${2 * loose + 1} and ${2 * loose + 2} loose`,
    });
  }
  return sheet;
}
