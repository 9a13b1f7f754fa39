import type { Limits } from '../model/index.ts';
import { startPool, type Pool } from '../reading/pool/index.ts';

/** What native libraries may have leaked by then is given back with the process. */
const JOBS_A_WORKER = 400;

/**
 * Starts the processes that read, draw and compare pages.
 *
 * @param size  at most so many at a time; they start with the first jobs
 */
export function startPageWorkers(size: number, limits: Limits): Pool {
  return startPool({
    module: new URL('./page-worker.ts', import.meta.url),
    size: Math.max(1, size),
    workerMb: limits.workerMb,
    recycleAfter: JOBS_A_WORKER,
  });
}
