import { createReadStream } from 'node:fs';
import { mkdtemp, open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Archive } from '../../archive/index.ts';
import type { Limits } from '../../model/index.ts';
import { startPool } from '../../reading/pool/index.ts';
import type { SigningKey } from '../../sealing/index.ts';
import type { CopyDone, CopyJob } from './copy-job.ts';
import { sealFor } from './seal-file.ts';

/** A copy that was made and lies beside, until it is read or discarded. */
export interface MadeCopy {
  readonly bytes: number;
  /** Its bytes, once; then it is gone. */
  stream(this: void): AsyncIterable<Uint8Array>;
  discard(this: void): Promise<void>;
}

/** What a copy is made of. */
export type CopyToMake = (
  | Pick<Extract<CopyJob, { readonly copy: 'signed' }>, 'copy' | 'order'>
  | Pick<Extract<CopyJob, { readonly copy: 'print' }>, 'copy' | 'order'>
) & {
  /** SHA-256 of the blob. */
  readonly blob: string;
  /** Seals the copy where it is to be sealed. */
  readonly key: SigningKey;
};

/** Makes copies in a process beside: a book of hundreds of pages takes seconds, in which others are answered. */
export interface CopyMaker {
  /**
   * Makes a copy of a blob.
   *
   * @throws {Refusal} too-large, unavailable: the process took too long or too much, or died
   * @throws {Refusal} as `makeSignedCopy`, `makePrintCopy` and `Blobs.lend`
   */
  make(this: void, blobs: Pick<Archive['blobs'], 'lend'>, wanted: CopyToMake): Promise<MadeCopy>;
  close(this: void): Promise<void>;
}

/** A book of 5000 pages on a slow machine. */
const PATIENCE_MS = 10 * 60_000;

/** Starts it; a process is started with each copy and ends after it, so that its memory is given back. */
export function startCopyMaker(limits: Limits): CopyMaker {
  const pool = startPool({
    module: new URL('./copy-worker.ts', import.meta.url),
    size: 1,
    workerMb: limits.workerMb,
    recycleAfter: 1,
  });
  return {
    async make(blobs, { key, blob, ...wanted }) {
      const folder = await mkdtemp(join(tmpdir(), 'witnessleaf-copy-'));
      const discard = (): Promise<void> => rm(folder, { recursive: true, force: true });
      const to = join(folder, 'copy.pdf');
      try {
        const { bytes, seal } = await blobs.lend(blob, (path) =>
          pool.run<CopyDone>({ ...wanted, path, to, limits }, { timeoutMs: PATIENCE_MS }),
        );
        if (seal !== null) await writeAt(to, seal.at, await sealFor(seal, key));
        return { bytes, stream: () => readOnce(to, discard), discard };
      } catch (error) {
        await discard();
        throw error;
      }
    },
    close: () => pool.close(),
  };
}

async function writeAt(path: string, at: number, digits: string): Promise<void> {
  const file = await open(path, 'r+');
  try {
    await file.write(digits, at, 'latin1');
  } finally {
    await file.close();
  }
}

async function* readOnce(path: string, discard: () => Promise<void>): AsyncGenerator<Uint8Array> {
  try {
    yield* createReadStream(path) as AsyncIterable<Uint8Array>;
  } finally {
    await discard();
  }
}
