import { open, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/**
 * Writes a file so that it is seen whole or not at all: a temporary file beside it, the bytes, `fsync`, then the name.
 * A path that is a pipe or a device is written to as it stands. What is not covered: the folder itself is not synced, so
 * a power cut can bring the former file back.
 */
export async function writeWhole(path: string, contents: string | Uint8Array): Promise<void> {
  if (await isSpecial(path)) {
    await writeFile(path, contents);
    return;
  }
  const unfinished = join(dirname(path), `.${basename(path)}.${process.pid}.unfinished`);
  try {
    const file = await open(unfinished, 'w');
    try {
      await file.writeFile(contents);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, path);
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
}

async function isSpecial(path: string): Promise<boolean> {
  try {
    return !(await stat(path)).isFile();
  } catch {
    return false;
  }
}
