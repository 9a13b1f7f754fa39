import { checkSheets } from '../../../src/archive/index.ts';
import type { SheetsRequest } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Report } from '../../../src/model/index.ts';

/** The report on sheets against their dummy; unless it is asked otherwise nothing kept, and nothing said of how they fold. */
export async function checkOfSheets(
  request: Pick<SheetsRequest, 'dummyPath' | 'sheetsPath' | 'workers'> & Partial<SheetsRequest>,
): Promise<Report> {
  const checked = await checkSheets({
    planChoice: { from: 'found' },
    tolerances: DEFAULT_TOLERANCES,
    limits: DEFAULT_LIMITS,
    purpose: 'compare',
    keptFolder: null,
    ...request,
  });
  await checked.close();
  return checked.report;
}
