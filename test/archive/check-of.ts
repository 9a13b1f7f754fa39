import { checkRevision } from '../../src/archive/index.ts';
import type { CheckRequest } from '../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Report } from '../../src/model/index.ts';

/** The report on two files, nothing kept, one worker. */
export async function checkOf(
  dummyPath: string,
  revisionPath: string,
  more: Partial<CheckRequest> = {},
): Promise<Report> {
  const checked = await checkRevision({
    dummyPath,
    revisionPath,
    tolerances: DEFAULT_TOLERANCES,
    limits: DEFAULT_LIMITS,
    purpose: 'compare',
    keptFolder: null,
    workers: 1,
    ...more,
  });
  await checked.close();
  return checked.report;
}
