import { createHash } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';
import { Refusal } from '../../model/index.ts';
import type { PutTerms } from './blobs.ts';

/**
 * Writes a stream to an open file, hashing it on the way, and brings it to disk.
 *
 * @throws {Refusal} too-large, unreadable: as the terms have it
 */
export async function writeArriving(
  file: FileHandle,
  stream: AsyncIterable<Uint8Array>,
  { sha256: announced, mostBytes = Infinity }: PutTerms,
): Promise<{ readonly sha256: string; readonly bytes: number }> {
  const hash = createHash('sha256');
  let bytes = 0;
  for await (const piece of stream) {
    bytes += piece.byteLength;
    if (bytes > mostBytes) {
      throw new Refusal('too-large', { what: 'the file', limit: mostBytes, found: bytes, unit: 'bytes' });
    }
    hash.update(piece);
    await writeAll(file, piece);
  }
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

/** A disk may take less than it is given. */
async function writeAll(file: FileHandle, piece: Uint8Array): Promise<void> {
  let from = 0;
  while (from < piece.byteLength) from += (await file.write(piece, from)).bytesWritten;
}
