import { open } from 'node:fs/promises';
import type { Blobs } from '../../blobs/index.ts';

/** What a file is by its first bytes: several plates as a ZIP, one as TIFF, or neither. */
export type PlatesForm = 'zip' | 'tiff' | 'neither';

/** Of so many bytes it is told. @source TIFF 6.0 section 2; PKWARE, APPNOTE 6.3.10 (2022), 4.3.7 */
const START = 4;

/** Looks at how a file begins. */
export async function platesFormOf(path: string): Promise<PlatesForm> {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(START), 0, START, 0);
    return formOf(buffer.subarray(0, bytesRead));
  } finally {
    await file.close();
  }
}

/** Looks at how a blob begins: to lend it would be to read all of it. One that is not there is told by whoever reads it. */
export async function platesFormOfBlob(
  blobs: Pick<Blobs, 'readRange' | 'sizeOf'>,
  sha256: string,
): Promise<PlatesForm> {
  if (((await blobs.sizeOf(sha256)) ?? 0) < START) return 'neither';
  const pieces: Uint8Array[] = [];
  for await (const piece of blobs.readRange(sha256, { first: 0, last: START - 1 })) pieces.push(piece);
  return formOf(Buffer.concat(pieces));
}

function formOf(bytes: Buffer): PlatesForm {
  const start = bytes.toString('latin1');
  if (start === 'PK\u0003\u0004') return 'zip';
  return /^(II[*+]\0|MM\0[*+])$/.test(start) ? 'tiff' : 'neither';
}
