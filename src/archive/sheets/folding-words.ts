import type { SaidFolding } from '../../model/index.ts';

/** How sheets are said to fold, for the log; a plan is named by its hash beside the words. */
export function foldingWords(folding: SaidFolding | null): string {
  if (folding === null) return 'as the sheets tell';
  return 'plan' in folding ? 'by a plan that was given' : `${folding.fold}, ${folding.bound}, ${folding.working}`;
}
