import type { Tolerances } from '../../model/index.ts';
import type { Job, SentFile, Tables } from '../catalogue/index.ts';
import { compareKey, termsFor } from './check-terms.ts';
import { dummyToCompareWith } from './dummy-to-compare-with.ts';

/** What a job that compares needs to know. */
export interface CompareOrder {
  readonly dummyId: string;
  readonly fileId: string;
}

/**
 * Asks for every comparison of a part that is due and was not asked for yet: of the files that came after the dummy, and
 * of the latest of each kind before it, with the dummy in force, else with the latest. To be called when a file was read
 * and when a statement may have brought another dummy into force; asked twice, it changes nothing.
 *
 * @returns the jobs, in the order of the files
 */
export async function askForComparisons(
  tables: Tables,
  partId: string,
  { tolerances, at }: { readonly tolerances: Tolerances; readonly at: number },
): Promise<readonly Job[]> {
  const dummy = await dummyToCompareWith(tables, partId);
  if (dummy === null) return [];
  const jobs: Job[] = [];
  for (const file of filesToCompare(await tables.files.ofPart(partId), dummy)) {
    if ((await tables.pages.ofBlob(file.sha256)) === null) continue;
    const order: CompareOrder = { dummyId: dummy.id, fileId: file.id };
    const key = compareKey(dummy.id, file.id, termsFor(file, tolerances));
    jobs.push(await tables.jobs.add({ kind: 'compare', key, order, at }));
  }
  return jobs;
}

/** The files of a part that are held against a dummy, in order of arrival. */
function filesToCompare(files: readonly SentFile[], dummy: SentFile): readonly SentFile[] {
  const others = files.filter(({ kind }) => kind !== 'dummy');
  const before = others.filter(({ position }) => position < dummy.position);
  const latest = (['revision', 'plates-input'] as const).map((kind) => before.findLast((file) => file.kind === kind));
  return others.filter((file) => file.position > dummy.position || latest.includes(file));
}
