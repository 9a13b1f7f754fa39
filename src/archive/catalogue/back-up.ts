import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { backup, DatabaseSync } from 'node:sqlite';
import { Refusal } from '../../model/index.ts';
import { syncFolder } from '../sync-folder.ts';
import { openDatabase, type Database } from './database.ts';
import { numberIn, textIn, type Row } from './row.ts';

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
    // One moment for all steps: otherwise each write of another process begins the copy anew, and it may never end.
    source.exec('BEGIN; SELECT 1 FROM sqlite_schema');
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
    const loose = database.all('PRAGMA foreign_key_check').map((row) => looseRow(database, row));
    return [...pages.filter((line) => line !== 'ok'), ...new Set(loose)];
  } finally {
    database.close();
  }
}

/** A row that refers to what is not there, with the name of it where the row still tells. */
function looseRow(database: Database, row: Row): string {
  const [table, parent] = [textIn(row, 'table'), textIn(row, 'parent')];
  const key = database.all(`PRAGMA foreign_key_list("${table}")`).find(({ id }) => id === row.fkid);
  const found =
    key === undefined || row.rowid === null
      ? null
      : database.one(`SELECT "${textIn(key, 'from')}" AS named FROM "${table}" WHERE rowid = :rowid`, {
          rowid: numberIn(row, 'rowid'),
        });
  return `${table}: a row refers to ${parent} ${found === null ? '' : `${String(found.named)}, `}which is not there`;
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
