import { readdir, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, sep } from 'node:path';
import { Refusal } from '../../../model/index.ts';
import type { ReadingTools } from '../../read-file.ts';
import type { PlateFile } from './plate-file.ts';
import { plateOnDisk, platesInZip } from './plate-file.ts';
import { platesFormOf } from './plates-form.ts';

const PLATE = /\.tiff?$/i;

/** What was given for plates. */
export interface GivenPlates {
  readonly paths: readonly [string, ...string[]];
  /** How people know the first one, where its path does not say. */
  readonly name?: string;
}

/** Plates that are files of their own. */
export interface FoundFiles {
  readonly plates: readonly PlateFile[];
  /** Whether they all lie in one file, whose hash is theirs. */
  readonly isOneFile: boolean;
}

/**
 * The files of plates among what was given: every TIFF in a folder and those in it, files as they are, or those in a ZIP.
 *
 * @param scratch  a folder for what is unpacked
 * @returns null where what was given is one file that holds no plates of its own: sheets as pages
 * @throws {Refusal} not-found: no such file or folder; unreadable: a folder or ZIP without a TIFF, or a file that is none
 * among others
 * @throws {Refusal} as `platesInZip`
 */
export async function plateFiles(
  { paths, name }: GivenPlates,
  tools: ReadingTools,
  scratch: string,
): Promise<FoundFiles | null> {
  const [first] = paths;
  if (paths.length === 1 && (await isFile(first))) {
    const own = name ?? basename(first);
    const form = await platesFormOf(first);
    if (form === 'zip') return { plates: await platesInZip(first, { name: own, scratch }, tools), isOneFile: true };
    return form === 'tiff' || PLATE.test(own) ? { plates: [plateOnDisk(first, own)], isOneFile: true } : null;
  }
  const files: string[] = [];
  for (const path of paths) {
    if (await isFile(path)) {
      if (!PLATE.test(path)) {
        const reason = 'among several files, each is the plate of one ink as TIFF';
        throw new Refusal('unreadable', { file: path, reason });
      }
      files.push(path);
      continue;
    }
    const within = (await readdir(path, { recursive: true })).filter((file) => PLATE.test(file)).sort();
    if (within.length === 0) throw new Refusal('unreadable', { file: path, reason: 'there is no TIFF in this folder' });
    files.push(...within.map((file) => join(path, file)));
  }
  const folder = commonFolder(files);
  const nameOf = (path: string): string => relative(folder, path).split(sep).join('/');
  return { plates: [...new Set(files)].map((path) => plateOnDisk(path, nameOf(path))), isOneFile: false };
}

async function isFile(path: string): Promise<boolean> {
  const found = await stat(path).catch(() => null);
  if (found === null) throw new Refusal('not-found', { what: path });
  return !found.isDirectory();
}

/** Plates of different folders are told apart by their folders' names. */
function commonFolder(files: readonly string[]): string {
  const folders = files.map((file) => dirname(file).split(sep));
  const [first] = folders;
  let depth = 0;
  while (depth < first!.length && folders.every((parts) => parts[depth] === first![depth])) depth += 1;
  return first!.slice(0, depth).join(sep) || sep;
}
