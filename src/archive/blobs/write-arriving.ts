import { createHash } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';
import { Refusal } from '../../model/index.ts';
import type { PutTerms } from './blobs.ts';
import { writeBehind } from './write-behind.ts';

/** After so much the disk is set to work. */
const FLUSH_BYTES = 64 * 2 ** 20;

/**
 * Writes a stream to an open file, hashing it on the way, and brings it to disk.
 *
 * @param onWritten  told how many bytes are written, before they are on disk
 * @throws {Refusal} too-large, unreadable: as the terms have it
 */
export async function writeArriving(
  file: FileHandle,
  stream: AsyncIterable<Uint8Array>,
  { sha256: announced, mostBytes = Infinity }: PutTerms,
  onWritten?: (bytes: number) => void,
): Promise<{ readonly sha256: string; readonly bytes: number }> {
  const hash = createHash('sha256');
  const { write, written } = writeBehind(file, 0, onWritten);
  let [bytes, flushedAt] = [0, 0];
  let flushing: Promise<unknown> = Promise.resolve();
  for await (const piece of stream) {
    bytes += piece.byteLength;
    if (bytes > mostBytes) {
      throw new Refusal('too-large', { what: 'the file', limit: mostBytes, found: bytes, unit: 'bytes' });
    }
    await write(piece);
    hash.update(piece);
    if (bytes - flushedAt < FLUSH_BYTES) continue;
    flushedAt = bytes;
    // So that the disk has less left to do at the end; where it fails, it is asked for its reason then.
    flushing = flushing.then(() => file.datasync());
    flushing.catch(() => undefined);
  }
  await written();
  await flushing;
  const sha256 = hash.digest('hex');
  if (announced !== undefined && announced !== sha256) {
    throw new Refusal('unreadable', {
      file: `what was sent as ${announced}`,
      reason: `its bytes have the SHA-256 ${sha256}: it changed on the way`,
    });
  }
  await file.sync();
  return { sha256, bytes };
}
