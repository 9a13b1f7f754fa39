import { Refusal } from '../../model/index.ts';
import { restLater, type Resting } from './resting.ts';
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
  /** What becomes of workers without a job; absent: they stay as they are until the pool is closed. */
  readonly resting?: Resting;
  /** How far its workers stand back behind other processes, from 0 to 19 as `nice` has it; absent: not at all. */
  readonly niceness?: number;
}

/** Child processes that take jobs in turn. A job that kills its worker is lost alone. */
export interface Pool {
  /** Worker processes at most. */
  readonly size: number;
  /**
   * Runs a job in the next free worker.
   *
   * @param job  anything that can be cloned between processes
   * @param options  `first`: before the jobs that wait
   * @throws {Refusal} too-large: out of time or memory; unavailable: the worker died, or the pool was closed; else what
   * the job itself threw
   */
  run<R>(job: unknown, options: { readonly timeoutMs: number; readonly first?: boolean }): Promise<R>;
  /**
   * Starts the workers that are missing, and has each worker that is free do a job once in its life, so that the next
   * jobs find it ready. Where that fails, nothing is said: the job that needs it fails with its own cause.
   *
   * @returns when they have done it
   */
  getReady(job: unknown, options: { readonly timeoutMs: number }): Promise<void>;
  /** Jobs that are at work or wait, and how many the least practised of the workers that have none has done since it rested. */
  standing(): { readonly jobs: number; readonly fewestDone: number };
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
  const ready = new WeakMap<Worker, Promise<void>>();
  const wakes = new WeakMap<Worker, () => void>();
  const all = new Set<Worker>();
  const ending = new Set<Worker>();
  const queue: Queued[] = [];
  let lastId = 0;
  let closed = false;

  const startWorker = (): Worker => {
    const worker: Worker = new Worker(options, () => {
      all.delete(worker);
      take(worker);
    });
    all.add(worker);
    return worker;
  };

  /** Gives a worker up, unless it has a job. */
  const endIdle = (worker: Worker): void => {
    if (!take(worker)) return;
    all.delete(worker);
    ending.add(worker);
    void worker.end().then(() => ending.delete(worker));
  };

  const putToRest = (worker: Worker): void => {
    idle.push(worker);
    if (options.resting !== undefined)
      wakes.set(
        worker,
        restLater(worker, options.resting, () => endIdle(worker)),
      );
  };

  /** @returns whether it was idle */
  const take = (worker: Worker): boolean => {
    wakes.get(worker)?.();
    const at = idle.indexOf(worker);
    if (at !== -1) idle.splice(at, 1);
    return at !== -1;
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
      putToRest(worker);
      if (isStale(worker)) endIdle(worker);
    }
    next();
  };

  const next = (): void => {
    while (!closed && queue.length > 0 && (idle.length > 0 || all.size < options.size)) {
      const queued = queue.shift();
      if (queued !== undefined) void work(takeIdle() ?? startWorker(), queued);
    }
  };

  const takeIdle = (): Worker | undefined => {
    const worker = idle.at(-1);
    if (worker !== undefined) take(worker);
    return worker;
  };

  return {
    size: options.size,
    run(job, { timeoutMs, first = false }) {
      if (closed) return Promise.reject(closedRefusal());
      return new Promise((resolve, reject) => {
        const queued: Queued = { job, timeoutMs, resolve, reject };
        if (first) queue.unshift(queued);
        else queue.push(queued);
        next();
      });
    },
    async getReady(job, { timeoutMs }) {
      if (closed) return;
      const once = { job, timeoutMs, resolve: () => undefined, reject: () => undefined };
      for (const worker of [...idle]) {
        take(worker);
        // one that is ready only begins its rest anew
        if (ready.has(worker)) putToRest(worker);
        else ready.set(worker, work(worker, once));
      }
      while (all.size < options.size) {
        const worker = startWorker();
        ready.set(worker, work(worker, once));
      }
      await Promise.all([...all].map((worker) => ready.get(worker) ?? Promise.resolve()));
    },
    standing: () => ({
      jobs: queue.length + all.size - idle.length,
      fewestDone: Math.min(...idle.map(({ jobsAwake }) => jobsAwake)),
    }),
    async close() {
      closed = true;
      for (const { reject } of queue.splice(0)) reject(closedRefusal());
      await Promise.all([...all, ...ending].map((worker) => worker.end()));
    },
  };
}

function closedRefusal(): Refusal {
  return new Refusal('unavailable', { what: 'the workers', reason: 'they were closed' });
}
