import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { mkdir, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { RecentFacts } from './recent-facts.ts';

/** A folder of results that cost time, by a hash of all that they depend on; or nothing kept at all. */
export interface KeptFacts {
  /** What was kept under these terms, or null. */
  read<T>(kind: string, terms: readonly unknown[]): Promise<T | null>;
  /** Whether something lies there under these terms; reading it may still give nothing. */
  has(kind: string, terms: readonly unknown[]): boolean;
  /** Keeps a value; a failure to write only costs time later. */
  write(kind: string, terms: readonly unknown[], value: unknown): Promise<void>;
}

/** Raise it when facts or comparisons come out differently than before, so that old ones are not taken for new. */
const EDITION = 'witnessleaf-facts/8';

const NOTHING: KeptFacts = { read: () => Promise.resolve(null), has: () => false, write: () => Promise.resolve() };

/**
 * Opens the folder, made where it is not there.
 *
 * @param folder    null keeps nothing
 * @param renderer  what draws the pages, with versions: another one makes other facts
 * @param recent    of a process that opens it again and again; what was removed from the folder is not known all the same
 */
export async function openKeptFacts(
  folder: string | null,
  renderer: string,
  recent: RecentFacts | null = null,
): Promise<KeptFacts> {
  if (folder === null) return NOTHING;
  await mkdir(folder, { recursive: true });
  const pathOf = (kind: string, terms: readonly unknown[]): string => {
    const hash = createHash('sha256').update(JSON.stringify([EDITION, renderer, kind, ...terms]));
    return join(folder, `${kind}-${hash.digest('hex').slice(0, 40)}`);
  };
  return {
    // At once: read beside the loop, each of these small files would cost thrice as much of its time.
    read: <T>(kind: string, terms: readonly unknown[]) =>
      Promise.resolve(readAt(pathOf(kind, terms), recent) as T | null),
    has: (kind, terms) => existsSync(pathOf(kind, terms)),
    async write(kind, terms, value) {
      const path = pathOf(kind, terms);
      const passing = `${path}.${process.pid}.part`;
      try {
        await writeFile(passing, serialize(value));
        await rename(passing, path);
        recent?.forget(path);
      } catch {
        // kept facts are a convenience: a full disk must not fail the check
      }
    },
  };
}

/** Null where nothing lies there, or something that cannot be read. */
function readAt(path: string, recent: RecentFacts | null): unknown {
  const known = recent?.get(path);
  if (known !== undefined && existsSync(path)) return known;
  try {
    const file = readFileSync(path);
    const value: unknown = deserialize(file);
    recent?.add(path, value, file.length);
    return value;
  } catch {
    return null;
  }
}
