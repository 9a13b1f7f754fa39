import { DatabaseSync } from 'node:sqlite';
import type { StatementSync } from 'node:sqlite';
import { Refusal } from '../../model/index.ts';
import type { Row } from './row.ts';

/** Values by the names that a statement has for them, without the colon. */
export type Values = Readonly<Record<string, null | number | string | Uint8Array>>;

/** One connection to the catalogue, as the tables' own files use it. */
export interface Database {
  /** Runs statements that give nothing back and have no values. */
  exec(sql: string): void;
  /** @returns how many rows were changed */
  run(sql: string, values?: Values): number;
  one(sql: string, values?: Values): Row | null;
  all(sql: string, values?: Values): readonly Row[];
  close(): void;
}

/** How long a connection waits for another process. */
const WAIT_MS = 10_000;
const PAUSE_MS = 20;

/**
 * Opens a connection: WAL, every commit on disk before it returns, foreign keys enforced, and REPLACE counted as the
 * deletion it is, so that the triggers of history see it.
 *
 * @throws {Refusal} unavailable: the file cannot be opened or is locked
 * @throws {Refusal} unreadable: it is no database, or a damaged one
 */
export function openDatabase(file: string, { readOnly }: { readonly readOnly: boolean }): Database {
  const connection = guarded(() => new DatabaseSync(file, { readOnly, timeout: WAIT_MS }));
  const statements = new Map<string, StatementSync>();
  const prepare = (sql: string): StatementSync => {
    const statement = statements.get(sql) ?? connection.prepare(sql);
    statements.set(sql, statement);
    return statement;
  };
  const database: Database = {
    exec: (sql) => guarded(() => connection.exec(sql)),
    run: (sql, values = {}) => guarded(() => Number(prepare(sql).run(values).changes)),
    one: (sql, values = {}) => guarded(() => (prepare(sql).get(values) ?? null) as Row | null),
    all: (sql, values = {}) => guarded(() => prepare(sql).all(values) as Row[]),
    close: () => connection.close(),
  };
  try {
    if (!readOnly) switchToWal(database);
    database.exec('PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON; PRAGMA recursive_triggers = ON');
    return database;
  } catch (error) {
    connection.close();
    throw error;
  }
}

/**
 * A first start switches the file to WAL. Where two do so at once, one is told that the file is busy without having
 * waited: the database's own patience does not hold for this switch.
 */
function switchToWal(database: Database): void {
  const pause = new Int32Array(new SharedArrayBuffer(4));
  for (let left = WAIT_MS / PAUSE_MS; ; left -= 1) {
    try {
      database.exec('PRAGMA journal_mode = WAL');
      return;
    } catch (error) {
      if (left <= 0 || !(error instanceof Refusal) || (error as Refusal).kind !== 'unavailable') throw error;
      Atomics.wait(pause, 0, 0, PAUSE_MS);
    }
  }
}

const UNAVAILABLE: Readonly<Record<number, string>> = {
  5: 'another process holds it',
  6: 'another process holds it',
  8: 'it is write-protected',
  10: 'the disk fails',
  13: 'the disk is full',
  14: 'it cannot be opened',
};
const UNREADABLE: Readonly<Record<number, string>> = { 11: 'it is damaged', 26: 'it is no catalogue' };

function guarded<T>(use: () => T): T {
  try {
    return use();
  } catch (error) {
    // The low byte is the primary code, the rest says more of the same.
    const code = error instanceof Error && 'errcode' in error ? Number(error.errcode) & 0xff : 0;
    const [unavailable, unreadable] = [UNAVAILABLE[code], UNREADABLE[code]];
    if (unavailable !== undefined)
      throw new Refusal('unavailable', { what: 'the catalogue', reason: unavailable }, error);
    if (unreadable !== undefined) throw new Refusal('unreadable', { file: 'the catalogue', reason: unreadable }, error);
    throw error;
  }
}
