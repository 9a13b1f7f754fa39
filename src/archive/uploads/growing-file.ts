import { createHash } from 'node:crypto';
import type { Hash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { asDiskRefusal } from '../blobs/disk-refusal.ts';
import { writeBehind } from '../blobs/write-behind.ts';

/** Twice so much may be lost at a kill; each such step costs one `fsync` and one row. */
const STEP_BYTES = 15 * 2 ** 20;

/** The hash of the first bytes of a file, kept between two pieces of it. */
export interface RunningHash {
  readonly hash: Hash;
  readonly bytes: number;
}

/** A file that grows at its end. */
export interface Growing {
  readonly path: string;
  /** Bytes that count; what a kill left behind them is cut off. */
  readonly from: number;
  /** Of those bytes, where somebody kept it; otherwise they are read again. */
  readonly running: RunningHash | null;
  /** Told after each step that is on disk. */
  readonly onDisk: (bytes: number) => Promise<void>;
  /** Told up to which byte all is written, before it is on disk; first of what counts from before. */
  readonly onWritten: (bytes: number) => void;
  /** Aborted: what came so far is brought to disk, and that is all. */
  readonly signal: AbortSignal;
}

/**
 * Writes a stream behind what is there and hashes it on the way. Also where the stream breaks off, what came is on disk
 * and told before this ends.
 *
 * @returns the running hash of all that is there
 * @throws {Refusal} unavailable: the disk is full or fails
 * @throws whatever the stream throws
 */
export async function growFile(stream: AsyncIterable<Uint8Array>, growing: Growing): Promise<RunningHash> {
  const { path, from, onDisk, onWritten, signal } = growing;
  // of its own: where the disk fails, the one that is kept is still that of its bytes
  const hash = growing.running?.bytes === from ? growing.running.hash.copy() : (await hashFile(path, from)).hash;
  const file = await open(path, 'r+').catch(refuseDisk);
  const { write, written } = writeBehind(file, from, onWritten);
  let [bytes, told, next] = [from, from, from + STEP_BYTES];
  let stepping: Promise<void> = Promise.resolve();
  const bringToDisk = async (): Promise<void> => {
    if (bytes === told) return;
    const sure = bytes;
    await written();
    await file.sync();
    await onDisk(sure);
    told = sure;
  };
  try {
    await file.truncate(from);
    onWritten(from);
    try {
      for await (const piece of stream) {
        if (signal.aborted) break;
        await write(piece);
        hash.update(piece);
        bytes += piece.byteLength;
        if (bytes < next) continue;
        next = bytes + STEP_BYTES;
        // More comes in while the disk works, but never more than a step beyond what is under way.
        await stepping;
        stepping = bringToDisk();
        stepping.catch(() => undefined);
      }
    } finally {
      await stepping;
      await bringToDisk();
    }
    return { hash, bytes };
  } catch (error) {
    throw asDiskRefusal(error, 'what arrives');
  } finally {
    await file.close();
  }
}

/** Hashes the first bytes of a file. */
async function hashFile(path: string, bytes: number): Promise<RunningHash> {
  const hash = createHash('sha256');
  if (bytes > 0) {
    for await (const piece of createReadStream(path, { end: bytes - 1 }) as AsyncIterable<Uint8Array>)
      hash.update(piece);
  }
  return { hash, bytes };
}

function refuseDisk(error: unknown): never {
  throw asDiskRefusal(error, 'what arrives');
}
