import { Worker } from 'node:worker_threads';

/** What re-reading the archive found. Faults are only counted: whose files they are in is not for everybody. */
export interface ScrubMessage {
  readonly isSound: boolean;
  readonly blobs: number;
  readonly bytes: number;
  readonly entries: number;
  readonly faults: number;
}

/** The latest reading since the service was started; null: none, not ended, or it did not come to an end. */
export interface ScrubState {
  readonly isRunning: boolean;
  readonly begunAtMs: number | null;
  readonly endedAtMs: number | null;
  readonly found: ScrubMessage | null;
  /** Why it did not come to an end. */
  readonly cause: string | null;
}

/** Reads the whole archive again when somebody asks for it. */
export interface Scrubs {
  latest(): ScrubState;
  /** Begins, unless it goes on already. */
  begin(): void;
  close(): Promise<void>;
}

/** Opens it over the folder of an archive; it reads in a thread of its own, so that nobody waits for it. */
export function openScrubs(folder: string, now: () => number): Scrubs {
  let worker: Worker | null = null;
  let latest: ScrubState = { isRunning: false, begunAtMs: null, endedAtMs: null, found: null, cause: null };
  const end = (ended: Pick<ScrubState, 'found' | 'cause'>): void => {
    if (worker === null) return;
    worker = null;
    latest = { ...latest, isRunning: false, endedAtMs: now(), ...ended };
  };
  return {
    latest: () => latest,
    begin() {
      if (worker !== null) return;
      latest = { isRunning: true, begunAtMs: now(), endedAtMs: null, found: null, cause: null };
      worker = new Worker(new URL('./scrub-worker.ts', import.meta.url), { workerData: { folder } });
      worker.on('message', (found: ScrubMessage) => end({ found, cause: null }));
      worker.on('error', (error) =>
        end({ found: null, cause: error instanceof Error ? error.message : String(error) }),
      );
      worker.on('exit', () => end({ found: null, cause: 'it was ended' }));
    },
    async close() {
      await worker?.terminate();
    },
  };
}
