import { open } from 'node:fs/promises';

/** Brings a folder's names to disk, so that a rename or a new file in it outlasts a power cut. Windows has no such call. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
