import { Worker } from 'node:worker_threads';
import { keepScrub, keptScrub } from '../archive/index.ts';
import type { KeptScrub, ScrubFound } from '../archive/index.ts';

/** The latest reading of the whole archive; null: there was none yet, it has not ended, or it did not come to an end. */
export interface ScrubState {
  readonly isRunning: boolean;
  readonly begunAtMs: number | null;
  readonly endedAtMs: number | null;
  readonly found: ScrubFound | null;
  /** Why it did not come to an end. */
  readonly cause: string | null;
}

/** Reads the whole archive again when somebody asks for it. */
export interface Scrubs {
  latest(): ScrubState;
  /** Begins, unless it goes on already. */
  begin(): void;
  /** One that goes on is ended, and kept as such. */
  close(): Promise<void>;
}

const NONE: ScrubState = { isRunning: false, begunAtMs: null, endedAtMs: null, found: null, cause: null };

/**
 * Opens it over the folder of an archive; it reads in a thread of its own, so that nobody waits for it. What it came to
 * is kept, also when the service is started again.
 *
 * @param onTrouble  what it came to could not be kept
 */
export async function openScrubs(
  folder: string,
  now: () => number,
  onTrouble: (error: unknown) => void,
): Promise<Scrubs> {
  let worker: Worker | null = null;
  const kept = await keptScrub(folder);
  let latest: ScrubState = kept === null ? NONE : { ...kept, isRunning: false };
  let keeping: Promise<void> = Promise.resolve();
  const end = (begunAtMs: number, ended: Pick<KeptScrub, 'found' | 'cause'>): void => {
    if (worker === null) return;
    worker = null;
    const scrub: KeptScrub = { begunAtMs, endedAtMs: now(), ...ended };
    latest = { ...scrub, isRunning: false };
    keeping = keeping.then(() => keepScrub(folder, scrub)).catch(onTrouble);
  };
  return {
    latest: () => latest,
    begin() {
      if (worker !== null) return;
      const begunAtMs = now();
      latest = { ...NONE, isRunning: true, begunAtMs };
      worker = new Worker(new URL('./scrub-worker.ts', import.meta.url), { workerData: { folder } });
      worker.on('message', (found: ScrubFound) => end(begunAtMs, { found, cause: null }));
      worker.on('error', (error) =>
        end(begunAtMs, { found: null, cause: error instanceof Error ? error.message : String(error) }),
      );
      worker.on('exit', () => end(begunAtMs, { found: null, cause: 'it was ended' }));
    },
    async close() {
      await worker?.terminate();
      await keeping;
    },
  };
}
