import type { Lease } from '../catalogue/index.ts';
import { describeCause } from './describe-cause.ts';
import { heartOf } from './heart.ts';
import type { WorkersOrder } from './workers-order.ts';

/** Workers that run. */
export interface Workers {
  /** There may be something to do: they look at once. */
  nudge(): void;
  /** No new jobs; those in hand are told to stop and given back. */
  close(): Promise<void>;
}

/**
 * Starts workers on the queue, after taking back what this owner held when it was last killed. A job that throws is tried
 * again later, unless what it threw says that trying is in vain; it never stops the others.
 */
export async function startWorkers(order: WorkersOrder): Promise<Workers> {
  const { jobs, owner, workers, now, idleMs, onTrouble } = order;
  await jobs.takeBack(owner, now());
  const stopping = new AbortController();
  const sleepers = new Set<() => void>();
  const nudge = (): void => [...sleepers].forEach((wake) => wake());
  const sleep = (): Promise<void> =>
    new Promise((wakeUp) => {
      const wake = (): void => {
        clearTimeout(timer);
        sleepers.delete(wake);
        wakeUp();
      };
      const timer = setTimeout(wake, idleMs);
      sleepers.add(wake);
    });
  const loop = async (): Promise<void> => {
    while (!stopping.signal.aborted) {
      try {
        const lease = await jobs.claim({ owner, at: now(), leaseMs: order.leaseMs });
        if (lease === null) await sleep();
        else await workOn(order, lease, stopping.signal).finally(nudge);
      } catch (error) {
        onTrouble(error);
        await sleep();
      }
    }
  };
  const loops = Array.from({ length: workers }, loop);
  return {
    nudge,
    async close() {
      stopping.abort();
      nudge();
      await Promise.all(loops);
    },
  };
}

async function workOn(order: WorkersOrder, lease: Lease, stopping: AbortSignal): Promise<void> {
  const { jobs, work, now, patienceMs } = order;
  const heart = heartOf(order, lease);
  const signal = AbortSignal.any([stopping, heart.signal]);
  const telling: (() => void)[] = [];
  const afterwards = (tell: () => void): void => void telling.push(tell);
  try {
    const tools = { progress: heart.progress, signal, afterwards };
    const { result, then = [] } = await work[lease.job.kind](lease.job, tools);
    await heart.stop();
    await jobs.finish(lease, { at: now(), result, then });
  } catch (error) {
    await heart.stop();
    const at = now();
    if (stopping.aborted) {
      await jobs.giveBack(lease, at);
      return;
    }
    const { cause, isLasting } = describeCause(error);
    await jobs.fail(lease, { at, cause, again: isLasting ? null : at + patienceMs(lease.job.tries) });
  }
  for (const tell of telling) tell();
}
