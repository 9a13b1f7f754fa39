import { createHash } from 'node:crypto';
import type { Hash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { asDiskRefusal } from '../blobs/disk-refusal.ts';

/** So much may be lost at a kill; each such step costs one `fsync` and one row. */
const STEP_BYTES = 32 * 2 ** 20;

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
  const { path, from, onDisk, signal } = growing;
  const hash = (growing.running?.bytes === from ? growing.running : await hashFile(path, from)).hash;
  const file = await open(path, 'r+').catch(refuseDisk);
  let [bytes, told] = [from, from];
  const bringToDisk = async (): Promise<void> => {
    if (bytes === told) return;
    await file.sync();
    await onDisk(bytes);
    told = bytes;
  };
  try {
    await file.truncate(from);
    try {
      for await (const piece of stream) {
        if (signal.aborted) break;
        for (let at = 0; at < piece.byteLength;) {
          const { bytesWritten } = await file.write(piece, at, piece.byteLength - at, bytes);
          hash.update(piece.subarray(at, at + bytesWritten));
          at += bytesWritten;
          bytes += bytesWritten;
        }
        if (bytes - told >= STEP_BYTES) await bringToDisk();
      }
    } finally {
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
