import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { backup, DatabaseSync } from 'node:sqlite';
import { Refusal } from '../../model/index.ts';
import { syncFolder } from '../sync-folder.ts';
import { openDatabase } from './database.ts';

/** So many pages of the database at a time: a whole small catalogue, and a large one in steps that let others work. */
const PAGES_AT_A_TIME = 4096;

/**
 * Copies a catalogue while it is used: a consistent state of one moment, looked over before it gets its name.
 *
 * @param copy  must not be there yet
 * @throws {Refusal} malformed: the copy is there already
 * @throws {Refusal} unreadable: the catalogue does not hold together, so its copy would not either
 */
export async function backUpDatabase(file: string, copy: string): Promise<void> {
  await requireFree(copy);
  const passing = `${copy}.unfinished`;
  await rm(passing, { force: true });
  const source = new DatabaseSync(file, { readOnly: true, timeout: 10_000 });
  try {
    await backup(source, passing, { rate: PAGES_AT_A_TIME });
    const faults = lookOver(passing);
    if (faults.length > 0) {
      throw new Refusal('unreadable', { file: 'the catalogue', reason: `it is damaged: ${faults[0] ?? ''}` });
    }
    const handle = await open(passing, 'r+');
    await handle.sync().finally(() => handle.close());
    await rename(passing, copy);
    await syncFolder(dirname(copy));
  } finally {
    source.close();
    await Promise.all(['', '-wal', '-shm'].map((ending) => rm(`${passing}${ending}`, { force: true })));
  }
}

/** What does not hold together in a catalogue's file, in the database's own words; nothing where all is well. */
export function lookOver(file: string): readonly string[] {
  const database = openDatabase(file, { readOnly: true });
  try {
    const pages = database.all('PRAGMA integrity_check').map((row) => String(row.integrity_check));
    const loose = database
      .all('PRAGMA foreign_key_check')
      .map((row) => `${String(row.table)}: a row refers to nothing`);
    return [...pages.filter((line) => line !== 'ok'), ...new Set(loose)];
  } finally {
    database.close();
  }
}

async function requireFree(copy: string): Promise<void> {
  try {
    await (await open(copy, 'r')).close();
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return;
    throw error;
  }
  throw new Refusal('malformed', { pointer: copy, expected: 'a file that is not there yet', found: 'one that is' });
}
