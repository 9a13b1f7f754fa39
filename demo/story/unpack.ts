import { copyFile, mkdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { openZip } from '../../src/reporting/evidence-pack/verify/open-zip.ts';

/** Unpacks an evidence pack, in which every name was checked, into a folder. */
export async function unpack(pack: string, folder: string): Promise<void> {
  const zip = await openZip(pack);
  try {
    for (const name of zip.names) {
      const path = join(folder, name);
      await mkdir(dirname(path), { recursive: true });
      await zip.lend(name, (lent) => copyFile(lent, path));
    }
  } finally {
    zip.close();
  }
}
