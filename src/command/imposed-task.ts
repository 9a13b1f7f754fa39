import type { Binding } from '../plates/index.ts';
import { SECTION_PAGES } from '../plates/index.ts';

/** That the second file is imposed sheets, and by which plan they were made up. */
export interface ImposedTask {
  readonly plan: string | null;
  /** Pages of a section, or its folds. */
  readonly fold: string | null;
  readonly bound: Binding;
  /** Where the plan is written to, to be looked at and given the next time. */
  readonly savePlan: string | null;
  /** Plates beside the second file, where the sheets come as one for each ink. */
  readonly plates: readonly string[];
}

const BINDINGS: readonly Binding[] = ['sewn', 'perfect-bound', 'saddle-stitched'];

/** What was typed about sheets; `flag` without a value is true. */
interface Typed {
  readonly imposed?: boolean;
  readonly plan?: string;
  readonly fold?: string;
  readonly bound?: string;
  readonly 'save-plan'?: string;
}

/** Reads the options about sheets: null where there are none, a sentence where they do not fit each other. */
export function imposedTask(typed: Typed, plates: readonly string[]): ImposedTask | null | string {
  const given = (['plan', 'fold', 'bound', 'save-plan'] as const).find((name) => typed[name] !== undefined);
  if (typed.imposed !== true) return given === undefined ? null : `--${given} goes with --imposed`;
  if (typed.plan !== undefined && typed.fold !== undefined) return 'either --plan or --fold says how sheets are folded';
  if (typed.bound !== undefined && typed.fold === undefined) return '--bound goes with --fold';
  const bound = BINDINGS.find((binding) => binding === (typed.bound ?? 'sewn'));
  if (bound === undefined) return `--bound: one of ${BINDINGS.join(', ')} expected, ${typed.bound ?? ''} found`;
  if (typed.fold !== undefined && /^\d+$/.test(typed.fold) && !SECTION_PAGES.includes(Number(typed.fold))) {
    return `--fold: ${SECTION_PAGES.join(', ')} pages expected, ${typed.fold} found; other sections by their folds`;
  }
  return { plan: typed.plan ?? null, fold: typed.fold ?? null, bound, savePlan: typed['save-plan'] ?? null, plates };
}
