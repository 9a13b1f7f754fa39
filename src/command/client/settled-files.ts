import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** A file of a watched folder, as it was at one look. */
export interface LookedAt {
  readonly name: string;
  readonly bytes: number;
  readonly modifiedMs: number;
}

/** Names that programs use while they still write or copy. @source common practice, no source */
const UNFINISHED = /^[.~]|^Thumbs\.db$|\.(tmp|part|partial|crdownload|download|filepart)$/i;

/** What lies in a folder and could be sent: files, not folders, not hidden ones, not such as are named as unfinished. */
export async function lookInto(folder: string): Promise<readonly LookedAt[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile() && !UNFINISHED.test(entry.name));
  const seen = await Promise.all(
    files.map(async ({ name }): Promise<LookedAt | null> => {
      const found = await stat(join(folder, name)).catch(() => null);
      return found === null ? null : { name, bytes: found.size, modifiedMs: found.mtimeMs };
    }),
  );
  return seen.filter((one) => one !== null).sort((one, other) => one.modifiedMs - other.modifiedMs);
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
