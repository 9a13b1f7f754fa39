import { open, readFile, rename } from 'node:fs/promises';
import { archivePaths } from '../archive-paths.ts';
import { syncFolder } from '../sync-folder.ts';

/** What a reading of the whole archive came to, in figures: whose files the faults are in is not for everybody. */
export interface ScrubFound {
  readonly isSound: boolean;
  readonly blobs: number;
  readonly bytes: number;
  /** Of the log. */
  readonly entries: number;
  readonly faults: number;
}

/** A reading that ended, as it is kept beside the archive. */
export interface KeptScrub {
  /** Milliseconds since 1970. */
  readonly begunAtMs: number;
  readonly endedAtMs: number;
  /** Null: it did not come to an end. */
  readonly found: ScrubFound | null;
  /** Why it did not come to an end. */
  readonly cause: string | null;
}

/** Keeps what the latest reading came to, in place of the one before, so that it outlasts the service. */
export async function keepScrub(folder: string, scrub: KeptScrub): Promise<void> {
  const { scrub: path } = archivePaths(folder);
  const passing = `${path}.part`;
  const handle = await open(passing, 'w');
  try {
    await handle.writeFile(JSON.stringify(scrub));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(passing, path);
  await syncFolder(folder);
}

/** What the latest reading came to; null where there was none, or where its file is not one of these. */
export async function keptScrub(folder: string): Promise<KeptScrub | null> {
  try {
    const told: unknown = JSON.parse(await readFile(archivePaths(folder).scrub, 'utf8'));
    return isKeptScrub(told) ? told : null;
  } catch {
    // nothing rests on it: another reading makes it again
    return null;
  }
}

function isKeptScrub(told: unknown): told is KeptScrub {
  if (!isRecord(told)) return false;
  const { begunAtMs, endedAtMs, found, cause } = told;
  const isTimed = [begunAtMs, endedAtMs].every((ms) => Number.isSafeInteger(ms));
  const isFound =
    isRecord(found) &&
    typeof found.isSound === 'boolean' &&
    [found.blobs, found.bytes, found.entries, found.faults].every((count) => Number.isSafeInteger(count));
  return isTimed && (found === null || isFound) && (cause === null || typeof cause === 'string');
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
