import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { basename } from 'node:path';
import { Refusal } from '../../model/index.ts';
import type { Limits } from '../../model/index.ts';

const CHUNK_BYTES = 16 * 2 ** 20;
const PIECE_BYTES = 2 ** 20;

/**
 * A file read whole; in pieces, since one call reads at most 2 GiB.
 *
 * @throws {Refusal} not-found: there is no such file; too-large: over `limits.fileBytes`; unreadable: empty, a folder, or
 * the disk refused
 */
export async function readFileBytes(path: string, limits: Pick<Limits, 'fileBytes'>): Promise<Buffer> {
  return asRefusal(path, async () => {
    const handle = await open(path, 'r');
    try {
      const { size } = await handle.stat();
      if (size > limits.fileBytes) {
        throw new Refusal('too-large', { what: basename(path), limit: limits.fileBytes, found: size, unit: 'bytes' });
      }
      if (size === 0) throw new Refusal('unreadable', { file: basename(path), reason: 'the file is empty' });
      const contents = Buffer.allocUnsafeSlow(size);
      let filled = 0;
      while (filled < size) {
        const { bytesRead } = await handle.read(contents, filled, Math.min(CHUNK_BYTES, size - filled), filled);
        if (bytesRead === 0) {
          throw new Refusal('unreadable', { file: basename(path), reason: 'the file shrank while it was read' });
        }
        filled += bytesRead;
      }
      return contents;
    } finally {
      await handle.close();
    }
  });
}

/** SHA-256 of a file that is in memory (lower-case hex), in pieces, since one call takes at most 2 GiB. */
export function hashBytes(contents: Buffer): string {
  const hash = createHash('sha256');
  for (let at = 0; at < contents.length; at += CHUNK_BYTES) hash.update(contents.subarray(at, at + CHUNK_BYTES));
  return hash.digest('hex');
}

/**
 * A file's SHA-256 (lower-case hex) and its length, without keeping it in memory.
 *
 * @throws {Refusal} not-found: there is no such file; unreadable: a folder, or the disk refused
 */
export async function fileIdentity(path: string): Promise<{ readonly sha256: string; readonly bytes: number }> {
  return asRefusal(path, async () => {
    const handle = await open(path, 'r');
    try {
      const hash = createHash('sha256');
      let bytes = 0;
      // one piece is hashed while the next is read, in memory that is used again
      let [piece, other] = [Buffer.allocUnsafeSlow(PIECE_BYTES), Buffer.allocUnsafeSlow(PIECE_BYTES)];
      let { bytesRead } = await handle.read(piece, 0, PIECE_BYTES, 0);
      while (bytesRead > 0) {
        bytes += bytesRead;
        const next = handle.read(other, 0, PIECE_BYTES, bytes);
        hash.update(piece.subarray(0, bytesRead));
        ({ bytesRead } = await next);
        [piece, other] = [other, piece];
      }
      return { sha256: hash.digest('hex'), bytes };
    } finally {
      await handle.close();
    }
  });
}

/**
 * Tells what the disk says of a file as a refusal.
 *
 * @throws {Refusal} not-found: there is no such file; unreadable: a folder, or the disk refused
 */
export async function asRefusal<T>(path: string, read: () => Promise<T> | T): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT') throw new Refusal('not-found', { what: path }, error);
    const reason = code === 'EISDIR' ? 'this is a folder' : `it cannot be read (${code ?? String(error)})`;
    throw new Refusal('unreadable', { file: basename(path), reason }, error);
  }
}
