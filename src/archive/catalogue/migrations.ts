import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Refusal } from '../../model/index.ts';
import type { Database } from './database.ts';
import { numberIn, textIn } from './row.ts';

/** One step of the catalogue's form. */
export interface Migration {
  /** From 1, without a gap. */
  readonly number: number;
  readonly name: string;
  readonly sql: string;
}

const FOLDER = fileURLToPath(new URL('../../../storage/migrations/', import.meta.url));

const RECORD = `
  CREATE TABLE IF NOT EXISTS migration (
    number INTEGER PRIMARY KEY CHECK (number >= 1),
    name TEXT NOT NULL,
    sql_sha256 TEXT NOT NULL,
    at_ms INTEGER NOT NULL
  ) STRICT`;

/** The project's own migrations, `NNN-name.sql`, in their order. */
export function readMigrations(folder = FOLDER): readonly Migration[] {
  const files = readdirSync(folder).filter((name) => name.endsWith('.sql'));
  return files.sort().map((file, index) => {
    const [digits, name] = /^(\d{3})-([a-z-]+)\.sql$/.exec(file)?.slice(1) ?? [];
    if (name === undefined || Number(digits) !== index + 1) throw new Error(`${file}: ${index + 1} expected next`);
    return { number: index + 1, name, sql: readFileSync(join(folder, file), 'utf8') };
  });
}

/**
 * Brings a catalogue to the newest form: each migration in a transaction of its own together with its record, so that a
 * kill leaves it applied or not.
 *
 * @returns numbers of what was applied now
 * @throws {Refusal} unavailable: the catalogue is of a later or an altered edition of this program
 */
export function migrate(database: Database, migrations: readonly Migration[], at: number): readonly number[] {
  // Also the record's own table: a look that turns into a write is not waited for, one that begins as a write is.
  atOnce(database, () => database.exec(RECORD));
  return migrations.flatMap((migration) => atOnce(database, () => applyOnce(database, migrations, migration, at)));
}

function atOnce<T>(database: Database, change: () => T): T {
  database.exec('BEGIN IMMEDIATE');
  try {
    const result = change();
    database.exec('COMMIT');
    return result;
  } catch (error) {
    database.exec('ROLLBACK');
    throw error;
  }
}

/**
 * Sees that a catalogue has exactly this form, or an earlier one where that is fine, without changing it.
 *
 * @throws {Refusal} unavailable: it has another
 */
export function requireMigrated(
  database: Database,
  migrations: readonly Migration[],
  { isOlderFine = false }: { readonly isOlderFine?: boolean } = {},
): void {
  const applied = database.all('SELECT number, name, sql_sha256 FROM migration ORDER BY number');
  const latest = numberIn(applied.at(-1) ?? { number: 0 }, 'number');
  const isKnown = isOlderFine ? latest <= migrations.length : latest === migrations.length;
  if (!isKnown) refuse(`it is of edition ${latest}, this program knows ${migrations.length}`);
  for (const row of applied) {
    const known = migrations[numberIn(row, 'number') - 1];
    if (known === undefined || textIn(row, 'sql_sha256') !== hashOf(known))
      refuse(`${textIn(row, 'name')} was altered`);
  }
}

/** Looks inside the transaction, because another process may have been quicker. */
function applyOnce(
  database: Database,
  migrations: readonly Migration[],
  migration: Migration,
  at: number,
): readonly number[] {
  const latest = database.one('SELECT coalesce(max(number), 0) AS number FROM migration');
  if (latest !== null && numberIn(latest, 'number') > migrations.length) requireMigrated(database, migrations);
  const row = database.one('SELECT sql_sha256 FROM migration WHERE number = :number', { number: migration.number });
  if (row !== null) {
    if (textIn(row, 'sql_sha256') !== hashOf(migration)) refuse(`${migration.name} was altered since it was applied`);
    return [];
  }
  database.exec(migration.sql);
  database.run('INSERT INTO migration VALUES (:number, :name, :hash, :at)', {
    number: migration.number,
    name: migration.name,
    hash: hashOf(migration),
    at,
  });
  return [migration.number];
}

function hashOf({ sql }: Migration): string {
  return createHash('sha256').update(sql).digest('hex');
}

function refuse(reason: string): never {
  throw new Refusal('unavailable', { what: 'the catalogue', reason });
}
