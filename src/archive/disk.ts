import { statfs } from 'node:fs/promises';
import { Refusal } from '../model/index.ts';

/** How much room there is where the archive is kept. */
export interface DiskRoom {
  readonly freeBytes: number;
  readonly totalBytes: number;
}

/**
 * Room on the disk that holds a folder, as the system tells it to somebody without special rights.
 *
 * @throws {Refusal} unavailable: the disk does not tell
 */
export async function diskRoom(folder: string): Promise<DiskRoom> {
  try {
    const { bavail, blocks, bsize } = await statfs(folder);
    return { freeBytes: bavail * bsize, totalBytes: blocks * bsize };
  } catch (error) {
    throw new Refusal('unavailable', { what: 'the room on the disk', reason: 'it is not told' }, error);
  }
}
