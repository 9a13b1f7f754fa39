import type { Binding, Working } from '../../src/model/index.ts';
import { call } from '../call/call.ts';
import { Trouble } from '../call/trouble.ts';
import { words } from '../words/index.ts';

/** What is chosen for sheets that are to be sent: found from them, by folds, or by a plan in a file. */
export interface FoldingChoice {
  readonly by: 'sheets' | 'folds' | 'plan';
  /** Pages of a section, or its folds. */
  readonly fold: string;
  readonly bound: Binding;
  readonly working: Working;
  readonly plan: File | null;
}

/** Where nobody says anything. */
export const FOUND_FROM_SHEETS: FoldingChoice = {
  by: 'sheets',
  fold: '16',
  bound: 'sewn',
  working: 'sheetwise',
  plan: null,
};

/** What goes along with the upload, as the service reads it; nothing where it is found from the sheets. */
export type FoldingTold = Readonly<Partial<Record<'plan' | 'fold' | 'bound' | 'working', string>>>;

/** Whether what is asked for was filled in. */
export function isFilledIn({ by, fold, plan }: FoldingChoice): boolean {
  return by === 'sheets' || (by === 'folds' ? fold.trim() !== '' : plan !== null);
}

/**
 * What is said of the sheets. A plan is given to the part first, so that one that does not fit is refused before
 * anything is sent.
 *
 * @throws {Trouble} malformed: the file is no plan, or not one of this part’s dummy; else as `call`
 */
export async function sayFolding(
  partId: string,
  { by, fold, bound, working, plan }: FoldingChoice,
): Promise<FoldingTold> {
  if (by === 'folds') return { fold: fold.trim(), bound, working };
  if (by === 'sheets' || plan === null) return {};
  const body = parsed(await plan.text(), plan.name);
  const { value } = await call<{ readonly plan: string }>('POST', `/api/parts/${partId}/plans`, { body });
  return { plan: value.plan };
}

function parsed(text: string, name: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Trouble('malformed', words.sending.noPlan(name));
  }
}
