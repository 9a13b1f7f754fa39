import type { Catalogue, Job, JobKind, JobToDo } from '../catalogue/index.ts';

/** What a worker may use while it works. */
export interface WorkTools {
  /** Says how far it has come; told to the catalogue now and then. */
  progress(this: void, stage: string, done: number, total: number): void;
  /** The lease was lost, or the workers are being stopped: nothing that is done from now on counts. */
  readonly signal: AbortSignal;
  /**
   * Done as soon as the queue has written how the job ended: whoever is told of it and looks, finds it so. Not done where
   * the job is given back, or the program dies before.
   */
  afterwards(this: void, tell: () => void): void;
}

/** Does one kind of job. What it writes must come out the same when it is done again. */
export type Work = (
  job: Job,
  tools: WorkTools,
) => Promise<{ readonly result: unknown; readonly then?: readonly JobToDo[] }>;

/** What workers need; clock and times are the caller's. */
export interface WorkersOrder {
  readonly jobs: Catalogue['jobs'];
  /** Of this process among all that work on the catalogue, and the same after a restart. */
  readonly owner: string;
  /** Jobs at the same time. */
  readonly workers: number;
  readonly work: Readonly<Record<JobKind, Work>>;
  readonly now: () => number;
  /** Without a word for so long, a worker counts as dead. */
  readonly leaseMs: number;
  /** Between two looks where there is nothing to do. */
  readonly idleMs: number;
  /** Before a failed job is tried again, after so many tries. */
  readonly patienceMs: (tries: number) => number;
  /** The catalogue itself failed: told, and tried again. */
  readonly onTrouble: (error: unknown) => void;
}
