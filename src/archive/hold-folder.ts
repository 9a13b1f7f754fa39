import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { DatabaseSync } from 'node:sqlite';
import { Refusal } from '../model/index.ts';
import { archivePaths } from './archive-paths.ts';

/** A folder that this process alone may serve. */
export interface FolderHold {
  /** Gives it to whoever comes next. */
  release(): Promise<void>;
}

const BUSY = 5;
/** A connection that nobody refers to any more is closed, and its lock would be gone. */
const held = new Set<DatabaseSync>();

/**
 * Holds an archive's folder for as long as this process lives, so that no second service serves it and no backup
 * writes into what is served: an exclusive lock on
 * an empty database, which the system takes back when the process ends, however it ends. Who only looks, as a scrub or a
 * backup does, needs no hold. A second file tells people who holds it; nothing rests on that one.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} unavailable: another process holds it, or nothing can be written there
 */
export async function holdFolder(folder: string, at: number): Promise<FolderHold> {
  const { lock, holder } = archivePaths(folder);
  await mkdir(folder, { recursive: true });
  const connection = await lockedAt(lock, async () => ({
    what: folder,
    reason: `${await holderIn(holder)} holds it`,
  }));
  held.add(connection);
  await writeFile(holder, `process ${process.pid} on ${hostname()}, since ${new Date(at).toISOString()},\n`);
  return {
    async release() {
      await rm(holder, { force: true });
      held.delete(connection);
      connection.close();
    },
  };
}

async function lockedAt(
  lock: string,
  describe: () => Promise<{ readonly what: string; readonly reason: string }>,
): Promise<DatabaseSync> {
  let connection: DatabaseSync | null = null;
  try {
    connection = new DatabaseSync(lock, { timeout: 0 });
    connection.exec('BEGIN EXCLUSIVE');
    return connection;
  } catch (error) {
    connection?.close();
    // The low byte is the primary code, the rest says more of the same.
    const code = error instanceof Error && 'errcode' in error ? Number(error.errcode) & 0xff : 0;
    if (code === 0) throw error;
    const details = code === BUSY ? await describe() : { what: lock, reason: 'it cannot be locked' };
    throw new Refusal('unavailable', details, error);
  }
}

/** As the other process has written it; it may not have come to that yet. */
async function holderIn(file: string): Promise<string> {
  const told = await readFile(file, 'utf8').catch(() => '');
  return told.trim() || 'another process';
}
