import type { OpenedPack } from '../../../evidence/index.ts';
import { requireAtMost } from '../../../evidence/index.ts';
import { createHash } from 'node:crypto';

/** A pack on this machine: a ZIP, or the folder that it was unpacked into. */
export interface PackOnDisk extends OpenedPack {
  /** Lends a member as a file for as long as `use` runs. */
  lend<T>(name: string, use: (path: string) => Promise<T>): Promise<T>;
  close(): void;
}

/** SHA-256 of a stream, in hexadecimal. */
export async function hashOf(stream: AsyncIterable<Uint8Array>): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of stream) hash.update(piece);
  return hash.digest('hex');
}

/**
 * All bytes of a stream.
 *
 * @throws {Refusal} too-large: more than `most`
 */
export async function wholeOf(name: string, stream: AsyncIterable<Uint8Array>, most: number): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of stream) {
    bytes += piece.length;
    requireAtMost(name, bytes, most, 'bytes');
    pieces.push(piece);
  }
  return new Uint8Array(Buffer.concat(pieces));
}
