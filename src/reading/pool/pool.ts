import { Refusal } from '../../model/index.ts';
import { Worker } from './worker.ts';

/** What a pool runs and how much of the machine it may use. */
export interface PoolOptions {
  /** A module that calls `serveJobs`. */
  readonly module: URL;
  /** Worker processes at most. */
  readonly size: number;
  /** Memory that one worker may hold; above it its job is refused and the worker replaced. */
  readonly workerMb: number;
  /** Jobs after which a worker is replaced by a fresh one. */
  readonly recycleAfter: number;
}

/** Child processes that take jobs in turn. A job that kills its worker is lost alone. */
export interface Pool {
  /** Worker processes at most. */
  readonly size: number;
  /**
   * Runs a job in the next free worker.
   *
   * @param job  anything that can be cloned between processes
   * @throws {Refusal} too-large: out of time or memory; unavailable: the worker died, or the pool was closed; else what
   * the job itself threw
   */
  run<R>(job: unknown, options: { readonly timeoutMs: number }): Promise<R>;
  /** Ends every worker; jobs not done are refused. */
  close(): Promise<void>;
}

interface Queued {
  readonly job: unknown;
  readonly timeoutMs: number;
  readonly resolve: (result: never) => void;
  readonly reject: (error: Error) => void;
}

/** Above this share of its memory an idle worker is replaced rather than given another job. */
const STALE_SHARE = 0.7;

/** Starts a pool; its workers start with the first jobs. */
export function startPool(options: PoolOptions): Pool {
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  const queue: Queued[] = [];
  let lastId = 0;
  let closed = false;

  const startWorker = (): Worker => {
    const worker: Worker = new Worker(options.module, options.workerMb, () => {
      all.delete(worker);
      const at = idle.indexOf(worker);
      if (at !== -1) idle.splice(at, 1);
    });
    all.add(worker);
    return worker;
  };

  const isStale = (worker: Worker): boolean =>
    worker.jobs >= options.recycleAfter || worker.residentMb > options.workerMb * STALE_SHARE;

  const work = async (worker: Worker, { job, timeoutMs, resolve, reject }: Queued): Promise<void> => {
    lastId += 1;
    try {
      resolve((await worker.run(lastId, job, timeoutMs)) as never);
    } catch (error) {
      reject(error instanceof Error ? error : new Error(String(error)));
    }
    if (!worker.gone) {
      if (isStale(worker)) {
        all.delete(worker);
        void worker.end();
      } else {
        idle.push(worker);
      }
    }
    next();
  };

  const next = (): void => {
    while (!closed && queue.length > 0 && (idle.length > 0 || all.size < options.size)) {
      const queued = queue.shift();
      if (queued !== undefined) void work(idle.pop() ?? startWorker(), queued);
    }
  };

  return {
    size: options.size,
    run(job, { timeoutMs }) {
      if (closed) return Promise.reject(closedRefusal());
      return new Promise((resolve, reject) => {
        queue.push({ job, timeoutMs, resolve: resolve, reject });
        next();
      });
    },
    async close() {
      closed = true;
      for (const { reject } of queue.splice(0)) reject(closedRefusal());
      await Promise.all([...all].map((worker) => worker.end()));
    },
  };
}

function closedRefusal(): Refusal {
  return new Refusal('unavailable', { what: 'the workers', reason: 'they were closed' });
}
