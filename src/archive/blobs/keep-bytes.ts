import type { Blobs, KeptBlob } from './blobs.ts';

/**
 * Keeps bytes that are in memory.
 *
 * @throws {Refusal} unavailable: the disk is full or fails
 */
export async function keepBytes(blobs: Pick<Blobs, 'put'>, bytes: Uint8Array): Promise<KeptBlob> {
  return blobs.put(inOnePiece(bytes));
}

async function* inOnePiece(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
