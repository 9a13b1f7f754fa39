import type { Lease } from '../catalogue/index.ts';
import type { WorkersOrder } from './workers-order.ts';

/** What keeps a lease while its job is worked on. */
export interface Heart {
  progress(this: void, stage: string, done: number, total: number): void;
  /** Aborted when the lease is lost. */
  readonly signal: AbortSignal;
  /** When it returns, nothing more is told of this lease. */
  stop(): Promise<void>;
}

/** Progress is for people who watch: oftener than this only wears the disk. */
const TELL_MS = 1000;

/** Renews a lease three times in its length, and with it tells how far the job has come. */
export function heartOf({ jobs, now, leaseMs, onTrouble }: WorkersOrder, lease: Lease): Heart {
  const lost = new AbortController();
  let latest: { readonly stage: string; readonly done: number; readonly total: number } | undefined;
  let told = latest;
  let beating: Promise<void> = Promise.resolve();
  const beat = async (): Promise<void> => {
    const progress = latest;
    try {
      const isOurs = await jobs.renew(lease, { at: now(), leaseMs, ...(progress === undefined ? {} : { progress }) });
      told = progress;
      if (!isOurs) lost.abort();
    } catch (error) {
      onTrouble(error);
    }
  };
  const inTurn = (): void => {
    beating = beating.then(beat);
  };
  const renewing = setInterval(inTurn, leaseMs / 3);
  const telling = setInterval(() => {
    if (latest !== told) inTurn();
  }, TELL_MS);
  return {
    progress(stage, done, total) {
      latest = { stage, done, total };
    },
    signal: lost.signal,
    async stop() {
      clearInterval(renewing);
      clearInterval(telling);
      await beating;
    },
  };
}
