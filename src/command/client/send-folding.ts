import { resolve } from 'node:path';
import { formatPlan } from '../../plates/index.ts';
import { foldingTask, readPlanFile, type FoldingTask } from '../folding-task.ts';
import type { ArchiveClient } from './ask-server.ts';
import type { ClientOption, Given } from './client-command.ts';
import type { FileToSend } from './upload-file.ts';

/** What is said of sheets that are sent. */
export const FOLDING_OPTIONS: Readonly<Record<string, ClientOption>> = {
  plan: { takes: 'FILE', says: 'of sheets: which page stands where, as witnessleaf-plan/1; found from them otherwise' },
  fold: { takes: '16', says: 'of sheets: pages of a section, or its folds such as “R>L, T>B, L>R”' },
  bound: { takes: 'sewn', says: 'with --fold: sewn, perfect-bound or saddle-stitched' },
  working: { takes: 'sheetwise', says: 'with --fold: sheetwise, sheetwise-tumbled, work-and-turn or work-and-tumble' },
};

/** What was said of how the sheets fold; null where nothing was, a sentence where it does not fit. */
export function foldingGiven(given: Given): FoldingTask | null | string {
  const typed = Object.fromEntries(
    Object.keys(FOLDING_OPTIONS).flatMap((name) => {
      const text = given.text(name);
      return text === null ? [] : [[name, text]];
    }),
  );
  return Object.keys(typed).length === 0 ? null : foldingTask(typed);
}

/**
 * What goes along with the file: a plan is given to its part first, so that one that does not fit is refused before
 * anything is sent.
 *
 * @throws {Refusal} not-found: there is no such plan here; malformed: it is none, or not one of the part’s dummy
 * @throws {Refusal} as `askServer`
 */
export async function sendFolding(
  client: ArchiveClient,
  partId: string,
  { plan, fold, bound, working }: FoldingTask,
  folder: string,
): Promise<FileToSend['folding']> {
  if (plan === null) return { fold: fold ?? '', bound, working };
  const body: unknown = JSON.parse(formatPlan(await readPlanFile(resolve(folder, plan), plan)));
  const given = await client.post<{ readonly plan: string }>(`/api/parts/${partId}/plans`, body);
  return { plan: given.plan };
}
