import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { Refusal } from '../../model/index.ts';

const PIECE_BYTES = 2 ** 20;

/**
 * Streams a file whose name is its SHA-256. One piece is always held back, so that whoever reads to the end has read
 * bytes that hold.
 *
 * @throws {Refusal} not-found: there is no such file
 * @throws {Refusal} unreadable: the bytes have another hash, or the disk cannot give them
 */
export async function* readChecked(path: string, sha256: string): AsyncGenerator<Uint8Array, void, undefined> {
  const hash = createHash('sha256');
  let held: Uint8Array | null = null;
  for await (const piece of readPieces(path, sha256)) {
    hash.update(piece);
    if (held !== null) yield held;
    held = piece;
  }
  const found = hash.digest('hex');
  if (found !== sha256) {
    throw new Refusal('unreadable', { file: `blob ${sha256}`, reason: `its bytes have the SHA-256 ${found}` });
  }
  if (held !== null) yield held;
}

/**
 * Streams a file or a stretch of it, unchecked.
 *
 * @throws {Refusal} not-found: there is no such file
 * @throws {Refusal} unreadable: the disk cannot give its bytes
 */
export async function* readPieces(
  path: string,
  sha256: string,
  range: { readonly start?: number; readonly end?: number } = {},
): AsyncGenerator<Uint8Array, void, undefined> {
  const stream = createReadStream(path, { highWaterMark: PIECE_BYTES, ...range });
  try {
    for await (const piece of stream as AsyncIterable<Uint8Array>) yield piece;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    if (code === 'ENOENT') throw new Refusal('not-found', { what: `blob ${sha256}` }, error);
    if (code === 'EIO' || code === 'EISDIR') {
      throw new Refusal('unreadable', { file: `blob ${sha256}`, reason: 'the disk cannot give its bytes' }, error);
    }
    throw error;
  } finally {
    stream.destroy();
  }
}
