import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../../src/archive/catalogue/database.ts';
import { openCatalogue } from '../../../src/archive/catalogue/index.ts';
import { migrate, readMigrations, requireMigrated } from '../../../src/archive/catalogue/migrations.ts';
import { refusalOf } from '../../refusal-of.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';

const ONE = { number: 1, name: 'one', sql: 'CREATE TABLE one (a) STRICT' };
const TWO = { number: 2, name: 'two', sql: 'CREATE TABLE one_more (a INTEGER) STRICT; CREATE TABLE broken (' };
const GOOD_ONE = { ...ONE, sql: 'CREATE TABLE one (a INTEGER) STRICT' };
const GOOD_TWO = { ...TWO, sql: 'CREATE TABLE one_more (a INTEGER) STRICT' };

const fresh = () => openDatabase(join(scratchFolder(), 'a.sqlite'), { readOnly: false });

describe('migrations', () => {
  it('are applied once, in order, and recorded', () => {
    const database = fresh();
    expect(migrate(database, [GOOD_ONE], 7)).toEqual([1]);
    expect(migrate(database, [GOOD_ONE, GOOD_TWO], 8)).toEqual([2]);
    expect(migrate(database, [GOOD_ONE, GOOD_TWO], 9)).toEqual([]);
    expect(database.all('SELECT number, name, at_ms FROM migration').map((row) => ({ ...row }))).toEqual([
      { number: 1, name: 'one', at_ms: 7 },
      { number: 2, name: 'two', at_ms: 8 },
    ]);
  });

  it('are applied as a whole or not at all', () => {
    const database = fresh();
    expect(() => migrate(database, [GOOD_ONE, TWO], 7)).toThrow(/incomplete input/);
    expect(database.all(`SELECT name FROM sqlite_schema WHERE type = 'table'`).map(({ name }) => name)).toEqual([
      'migration',
      'one',
    ]);
    expect(migrate(database, [GOOD_ONE, GOOD_TWO], 8)).toEqual([2]);
  });

  it('refuse a catalogue of a later edition, and one whose migrations were altered', () => {
    const database = fresh();
    migrate(database, [GOOD_ONE, GOOD_TWO], 7);
    const refused = (reason: string) => ({ kind: 'unavailable', what: 'the catalogue', reason });
    const later = refused('it is of edition 2, this program knows 1');
    expect(refusalOf(() => migrate(database, [GOOD_ONE], 8))).toEqual(later);
    expect(refusalOf(() => requireMigrated(database, [GOOD_ONE]))).toEqual(later);
    const altered = [{ ...GOOD_ONE, sql: `${GOOD_ONE.sql} -- better` }, GOOD_TWO];
    expect(refusalOf(() => migrate(database, altered, 8))).toEqual(refused('one was altered since it was applied'));
    expect(refusalOf(() => requireMigrated(database, altered))).toEqual(refused('one was altered'));
    expect(refusalOf(() => requireMigrated(database, [GOOD_ONE, GOOD_TWO]))).toBe('nothing was refused');
  });

  it('of the project are numbered without a gap and all tables are strict', () => {
    const migrations = readMigrations();
    expect(migrations.map(({ number }) => number)).toEqual(migrations.map((_one, index) => index + 1));
    const database = fresh();
    migrate(database, migrations, 1);
    const loose = database.all(`SELECT name FROM pragma_table_list WHERE type = 'table' AND strict = 0
      AND schema = 'main' AND name NOT LIKE 'sqlite_%'`);
    expect(loose).toEqual([]);
  });
});

describe('the catalogue’s connections', () => {
  it('write to disk before they answer, enforce what refers to what, and keep a log beside the file', () => {
    const database = fresh();
    const setting = (name: string) => Object.values(database.one(`PRAGMA ${name}`) ?? {})[0];
    expect(['journal_mode', 'synchronous', 'foreign_keys', 'recursive_triggers'].map(setting)).toEqual([
      'wal',
      2,
      1,
      1,
    ]);
  });

  it('refuse a file that is no catalogue', async () => {
    const file = join(scratchFolder(), 'a.sqlite');
    writeFileSync(file, 'This is a letter to the printer, and it is longer than a header. '.repeat(20));
    const refused = { kind: 'unreadable', file: 'the catalogue', reason: 'it is no catalogue' };
    expect(await laterRefusalOf(openCatalogue(file, 1))).toEqual(refused);
  });

  it('see what an earlier process wrote that was killed', async () => {
    const file = join(scratchFolder(), 'a.sqlite');
    const module = new URL('../../../src/archive/catalogue/index.ts', import.meta.url).href;
    const script = `const { openCatalogue } = await import('${module}');
      const catalogue = await openCatalogue(process.argv[1], 1);
      await catalogue.parties.add({ name: 'Blattwerk', at: 2 });
      process.kill(process.pid, 'SIGKILL');`;
    const { signal } = spawnSync(process.execPath, ['--input-type=module', '-e', script, file]);
    const catalogue = await openCatalogue(file, 3);
    expect([signal, (await catalogue.parties.list()).map(({ name }) => name)]).toEqual(['SIGKILL', ['Blattwerk']]);
    catalogue.close();
  });
});
