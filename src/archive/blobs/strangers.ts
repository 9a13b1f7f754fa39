import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { isBlobName } from './blob-name.ts';

/** What lies in a folder of blobs and is none. */
export interface Strangers {
  /** Passing names: puts that are under way, or were killed. */
  readonly arriving: readonly string[];
  /** Bytes that stopped being what their name says, were noticed, and were replaced by good ones. */
  readonly setAside: readonly string[];
  /** What nobody here has put there. */
  readonly foreign: readonly string[];
}

/** Paths, from the folder, of all that is no blob in its place; sorted. */
export async function strangersIn(folder: string): Promise<Strangers> {
  const all = { arriving: [] as string[], setAside: [] as string[], foreign: [] as string[] };
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const isShelf = /^([0-9a-f]{2}|arriving|damaged)$/.test(entry.name) && entry.isDirectory();
    if (!isShelf) all.foreign.push(entry.name);
    else all[placeOf(entry.name)].push(...(await oddNames(folder, entry.name)));
  }
  return { arriving: all.arriving.sort(), setAside: all.setAside.sort(), foreign: all.foreign.sort() };
}

function placeOf(shelf: string): keyof Strangers {
  if (shelf === 'arriving') return 'arriving';
  return shelf === 'damaged' ? 'setAside' : 'foreign';
}

async function oddNames(folder: string, shelf: string): Promise<readonly string[]> {
  const entries = await readdir(join(folder, shelf), { withFileTypes: true });
  return entries
    .filter((entry) => !(entry.isFile() && isBlobName(entry.name) && entry.name.startsWith(shelf)))
    .map(({ name }) => `${shelf}/${name}`);
}
