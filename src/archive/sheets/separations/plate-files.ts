import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../../../model/index.ts';

const PLATE = /\.tiff?$/i;

/**
 * The files of plates among what was given: every TIFF in a folder and those in it, and files as they are.
 *
 * @returns null where what was given is one file that is no TIFF: sheets as pages
 * @throws {Refusal} not-found: no such file or folder; unreadable: a folder without a TIFF, or a file that is none among
 * others
 */
export async function plateFiles(given: readonly string[]): Promise<readonly string[] | null> {
  const files: string[] = [];
  for (const path of given) {
    const found = await stat(path).catch(() => null);
    if (found === null) throw new Refusal('not-found', { what: path });
    if (!found.isDirectory()) {
      if (!PLATE.test(path)) {
        if (given.length === 1) return null;
        throw new Refusal('unreadable', {
          file: path,
          reason: 'among several files, each is the plate of one ink as TIFF',
        });
      }
      files.push(path);
      continue;
    }
    const within = (await readdir(path, { recursive: true })).filter((name) => PLATE.test(name)).sort();
    if (within.length === 0) throw new Refusal('unreadable', { file: path, reason: 'there is no TIFF in this folder' });
    files.push(...within.map((name) => join(path, name)));
  }
  return [...new Set(files)];
}
