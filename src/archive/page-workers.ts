import type { Limits } from '../model/index.ts';
import { startPool, type Pool } from '../reading/pool/index.ts';
import type { GetReadyJob } from './page-jobs.ts';

/** What native libraries may have leaked by then is given back with the process. */
const JOBS_A_WORKER = 400;

/** How workers of a process that goes on are kept between two checks. */
export interface WorkersKept {
  /** How far they stand back behind other processes, from 0 to 19 as `nice` has it. */
  readonly niceness?: number;
  /** A worker without a job closes its files after so long. */
  readonly restMs: number;
  /** After so long it ends. */
  readonly endMs: number;
  /** One that holds more than this when it rests ends at once. */
  readonly restMb: number;
}

/**
 * Starts the processes that read, draw and compare pages.
 *
 * @param size  at most so many at a time; they start with the first jobs
 * @param kept  absent: for one check; they are there until the pool is closed
 */
export function startPageWorkers(size: number, limits: Limits, kept?: WorkersKept): Pool {
  return startPool({
    module: new URL('./page-worker.ts', import.meta.url),
    size: Math.max(1, size),
    workerMb: limits.workerMb,
    recycleAfter: JOBS_A_WORKER,
    ...(kept === undefined
      ? {}
      : {
          niceness: kept.niceness ?? 0,
          resting: { afterMs: kept.restMs, endMs: kept.endMs, mostMb: kept.restMb },
        }),
  });
}

/** Lets every worker load what drawing needs, before there is anything to draw: half a second that nobody waits for. */
export function getWorkersReady(pool: Pool, limits: Pick<Limits, 'pageMs'>): Promise<void> {
  const job: GetReadyJob = { do: 'get-ready' };
  return pool.getReady(job, { timeoutMs: limits.pageMs });
}
