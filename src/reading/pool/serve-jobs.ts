import { flushCompileCache } from 'node:module';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { compileFullyLater } from './compiling.ts';
import { packError, type FromWorker, type ToWorker } from './wire.ts';

const WATCH_EVERY_MS = 100;
/** Name of the variable that tells a worker its memory limit. */
export const WORKER_MB = 'WITNESSLEAF_WORKER_MB';

/**
 * Turns this process into a worker of a pool: every job is given to `handler`, one at a time, and its answer sent back.
 * The process ends when its parent does, and gives up when it holds more memory than the pool allows.
 *
 * @param handler  may refuse; what it throws reaches the caller of `Pool.run`
 * @param letGo  gives back what is held for jobs to come; called when there was none for a while
 */
export function serveJobs(
  handler: (job: unknown) => Promise<unknown>,
  letGo: () => Promise<void> = () => Promise.resolve(),
): void {
  const send = process.send?.bind(process);
  if (send === undefined) throw new Error('serveJobs: this process was not started by a pool');
  const tell = (message: FromWorker, then?: () => void): void => {
    send(message, undefined, undefined, () => then?.());
  };
  compileFullyLater();
  watchMemory(tell);
  process.on('disconnect', () => process.exit(0));
  let isFirst = true;
  process.on('message', (message: ToWorker) => {
    if ('rest' in message) {
      void letGo().finally(() => {
        clearHeap();
        looked = { at: -Infinity, mb: 0 };
        tell({ rested: true, residentMb: residentMb() });
      });
      return;
    }
    const { id, job } = message;
    handler(job)
      .then(
        (result) => tell({ id, result, residentMb: residentMb() }),
        (error: unknown) => tell({ id, error: packError(error), residentMb: residentMb() }),
      )
      .finally(() => {
        // A worker ends by being killed, so its compiled code is kept once a job has loaded what it needs.
        if (isFirst) flushCompileCache();
        isFirst = false;
      });
  });
  tell({ ready: true });
}

/** An idle process allocates nothing, so its engine would hold on to what nothing refers to any more. */
function clearHeap(): void {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
}

let looked = { at: -Infinity, mb: 0 };

/** What this process holds, as it was a moment ago: the system counts pages for each answer. */
function residentMb(): number {
  const now = performance.now();
  if (now - looked.at >= WATCH_EVERY_MS) looked = { at: now, mb: process.memoryUsage.rss() / 2 ** 20 };
  return looked.mb;
}

/** Native memory is outside the heap's limit, so it is looked at from time to time. */
function watchMemory(tell: (message: FromWorker, then: () => void) => void): void {
  const most = Number(process.env[WORKER_MB]);
  const watch = setInterval(() => {
    if (residentMb() <= most) return;
    clearInterval(watch);
    tell({ overMb: residentMb() }, () => process.exit(1));
  }, WATCH_EVERY_MS);
  watch.unref();
}
