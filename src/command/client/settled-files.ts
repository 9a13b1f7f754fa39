import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** A file of a watched folder, or a folder of plates in it, as it was at one look. */
export interface LookedAt {
  readonly name: string;
  readonly isFolder: boolean;
  /** Of a folder, all that is in it. */
  readonly bytes: number;
  /** Of a folder, the newest of it. */
  readonly modifiedMs: number;
}

/** Names that programs use while they still write or copy. @source common practice, no source */
const UNFINISHED = /^[.~]|^Thumbs\.db$|\.(tmp|part|partial|crdownload|download|filepart)$/i;

/** Where what was sent is put away. */
const OWN_FOLDERS = ['sent', 'refused'];

/**
 * What lies in a folder and could be sent: files, not hidden ones, not such as are named as unfinished; and where they
 * are asked for, folders with something in them.
 */
export async function lookInto(
  folder: string,
  { folders = false }: { readonly folders?: boolean } = {},
): Promise<readonly LookedAt[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const found = entries.filter(({ name }) => !UNFINISHED.test(name));
  const seen = await Promise.all(
    found.map(async (entry) => {
      if (entry.isFile()) return lookAt(folder, entry.name);
      return folders && entry.isDirectory() && !OWN_FOLDERS.includes(entry.name)
        ? lookWithin(folder, entry.name)
        : null;
    }),
  );
  return seen.filter((one) => one !== null).sort((one, other) => one.modifiedMs - other.modifiedMs);
}

async function lookAt(folder: string, name: string): Promise<LookedAt | null> {
  const found = await stat(join(folder, name)).catch(() => null);
  return found === null ? null : { name, isFolder: false, bytes: found.size, modifiedMs: found.mtimeMs };
}

async function lookWithin(folder: string, name: string): Promise<LookedAt | null> {
  const names = await readdir(join(folder, name), { recursive: true }).catch(() => []);
  const inside = (await Promise.all(names.map((one) => lookAt(join(folder, name), one)))).filter((one) => one !== null);
  if (inside.length === 0) return null;
  const bytes = inside.reduce((sum, one) => sum + one.bytes, 0);
  return { name, isFolder: true, bytes, modifiedMs: Math.max(...inside.map(({ modifiedMs }) => modifiedMs)) };
}

/**
 * The files that are whole, the oldest first: with something in them, and unchanged from one look to the next. A file
 * that is still being copied grows between two looks.
 */
export function settledFiles(before: readonly LookedAt[], now: readonly LookedAt[]): readonly LookedAt[] {
  const earlier = new Map(before.map((one) => [one.name, one]));
  return now.filter(({ name, bytes, modifiedMs }) => {
    const then = earlier.get(name);
    return bytes > 0 && then?.bytes === bytes && then.modifiedMs === modifiedMs;
  });
}
