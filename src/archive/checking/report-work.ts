import { Refusal } from '../../model/index.ts';
import type { Archive } from '../open-archive.ts';
import type { Work } from '../workers/workers-order.ts';
import type { CheckingOrder } from './checking-order.ts';
import { lendReport } from './lend-report.ts';
import { untilAborted } from './until-aborted.ts';

/**
 * The work of a `report` job: the pictures of a report drawn and kept, by what the room above plugs in.
 *
 * @throws {Refusal} not-found: when it runs, the report or a page of it is not there
 */
export function reportWork(archive: Archive, order: CheckingOrder): Work {
  return async (job, { progress, signal }) => {
    const { reportId } = job.order as { readonly reportId: string };
    const kept = await archive.catalogue.reports.get(reportId);
    if (kept === null) throw new Refusal('not-found', { what: 'the report' });
    const drawing = lendReport(archive, order, kept, (lent) =>
      order.drawReport({ ...lent, onProgress: ({ done, total }) => progress('drawing pictures', done, total) }),
    );
    return { result: { reportId, pictures: await untilAborted(signal, drawing) } };
  };
}
