import type { Tolerances } from '../../model/index.ts';
import type { Job, SentFile, Tables } from '../catalogue/index.ts';
import { readKey } from '../files/file-below.ts';
import { compareKey, termsFor } from './check-terms.ts';
import { dummyToCompareWith } from './dummy-to-compare-with.ts';
import { newestReport } from './file-findings.ts';

/** How far a file has come; each job is null where it was not asked for yet. */
export interface CheckingState {
  readonly reading: Job | null;
  /** With the dummy that its part is held against now. */
  readonly comparing: Job | null;
  readonly drawing: Job | null;
}

/** The jobs of a file as they stand. A failed one carries its cause in words and can be tried again. */
export async function checkingState(tables: Tables, file: SentFile, tolerances: Tolerances): Promise<CheckingState> {
  const reading = await tables.jobs.byKey(readKey(file.id));
  const dummy = file.kind === 'dummy' ? null : await dummyToCompareWith(tables, file.partId);
  if (dummy === null) return { reading, comparing: null, drawing: null };
  const report = await newestReport(tables, { dummyId: dummy.id, fileId: file.id });
  return {
    reading,
    comparing: await tables.jobs.byKey(compareKey(dummy.id, file.id, termsFor(file, tolerances))),
    drawing: report && (await tables.jobs.byKey(`report/${report.id}`)),
  };
}
