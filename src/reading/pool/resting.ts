import type { Worker } from './worker.ts';

/** What becomes of workers that have no job: first each gives back what it can, later it ends. */
export interface Resting {
  /** Without a job for so long, a worker lets go of what it holds for jobs to come. */
  readonly afterMs: number;
  /** One that holds more memory than this all the same ends. */
  readonly mostMb: number;
  /** Without a job for so long, it ends. */
  readonly endMs: number;
}

/**
 * Lets a worker rest while it is idle.
 *
 * @param end  gives it up, where it is idle still
 * @returns to be called when it gets its next job
 */
export function restLater(worker: Worker, { afterMs, mostMb, endMs }: Resting, end: () => void): () => void {
  const rest = async (): Promise<void> => {
    if ((await worker.rest()) > mostMb) end();
  };
  const timers = [setTimeout(() => void rest(), afterMs), setTimeout(end, endMs)];
  for (const timer of timers) timer.unref();
  return () => timers.forEach((timer) => clearTimeout(timer));
}
