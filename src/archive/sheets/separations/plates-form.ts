import { open } from 'node:fs/promises';

/** What a file is by its first bytes: several plates as a ZIP, one as TIFF, or neither. */
export type PlatesForm = 'zip' | 'tiff' | 'neither';

/** Looks at how a file begins. @source TIFF 6.0 section 2; PKWARE, APPNOTE 6.3.10, 4.3.7 */
export async function platesFormOf(path: string): Promise<PlatesForm> {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(4), 0, 4, 0);
    const start = buffer.toString('latin1', 0, bytesRead);
    if (start === 'PK\u0003\u0004') return 'zip';
    return /^(II[*+]\0|MM\0[*+])$/.test(start) ? 'tiff' : 'neither';
  } finally {
    await file.close();
  }
}
