import type { FoldingTask, TypedFolding } from './folding-task.ts';
import { foldingTask } from './folding-task.ts';

/** That the second file is imposed sheets, and by which plan they were made up. */
export interface ImposedTask extends FoldingTask {
  /** Where the plan is written to, to be looked at and given the next time. */
  readonly savePlan: string | null;
  /** Plates beside the second file, where the sheets come as one for each ink. */
  readonly plates: readonly string[];
}

/** What was typed about sheets; `flag` without a value is true. */
interface Typed extends TypedFolding {
  readonly imposed?: boolean;
  readonly 'save-plan'?: string;
}

/** Reads the options about sheets: null where there are none, a sentence where they do not fit each other. */
export function imposedTask(typed: Typed, plates: readonly string[]): ImposedTask | null | string {
  const given = (['plan', 'fold', 'bound', 'working', 'save-plan'] as const).find((name) => typed[name] !== undefined);
  if (typed.imposed !== true) return given === undefined ? null : `--${given} goes with --imposed`;
  const folding = foldingTask(typed);
  return typeof folding === 'string' ? folding : { ...folding, savePlan: typed['save-plan'] ?? null, plates };
}
