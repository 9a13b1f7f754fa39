import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../../src/archive/catalogue/database.ts';
import type { Database } from '../../../src/archive/catalogue/database.ts';
import { readMigrations } from '../../../src/archive/catalogue/migrations.ts';
import { bookInCatalogue, fillUp } from './filled-catalogue.ts';

const sql = readMigrations()
  .map((migration) => migration.sql)
  .join('\n');
const tables = [...sql.matchAll(/^CREATE TABLE (\w+)/gm)].map(([, name]) => name!);
/** Their rows go through states; all others are history. */
const CHANGING = ['account', 'entrance', 'job', 'time_stamp', 'upload'];

let database: Database;

beforeAll(async () => {
  const book = await bookInCatalogue();
  await fillUp(book);
  book.catalogue.close();
  // What somebody at the file itself would use, past every function of this program.
  database = openDatabase(book.file, { readOnly: false });
});
afterAll(() => database.close());

describe('in the database itself', () => {
  it('every table has a row here, so that none is spared', () => {
    expect(tables.filter((table) => database.one(`SELECT 1 FROM ${table}`) === null)).toEqual([]);
    expect(tables.length).toBeGreaterThan(25);
  });

  it.each(tables)('K8 nothing is deleted from %s', (table) => {
    expect(() => database.exec(`DELETE FROM ${table}`)).toThrow(/: (history is not|nothing is) deleted$/);
    expect(() => database.exec(`INSERT OR REPLACE INTO ${table} SELECT * FROM ${table}`)).toThrow(/^\w+: /);
  });

  it.each(tables.filter((table) => !CHANGING.includes(table)))('K8 nothing is altered in %s', (table) => {
    const columns = database.all(`SELECT name FROM pragma_table_info('${table}')`).map(({ name }) => String(name));
    for (const column of columns) {
      const change = (): void => database.exec(`UPDATE ${table} SET ${column} = ${column}`);
      expect(change).toThrow(`${table}: history is not altered`);
    }
  });

  it.each([
    ['time_stamp', `UPDATE time_stamp SET authority = 'another'`],
    ['job', `UPDATE job SET order_json = '1'`],
    ['job', `UPDATE job SET state = 'done', result_json = '1'`],
    ['entrance', `UPDATE entrance SET until_ms = 99999`],
    ['entrance', `UPDATE entrance SET person_id = NULL`],
    ['upload', `UPDATE upload SET told_json = '{}'`],
    ['upload', `UPDATE upload SET bytes = 8`],
    [
      'upload',
      `UPDATE upload SET state = 'received', arrived = 7, sha256 = '${'0'.repeat(64)}', file_id = (SELECT id FROM file)`,
    ],
  ])('%s changes only as such things do: %s', (table, change) => {
    expect(() => database.exec(change)).toThrow(new RegExp(`^${table}: `));
  });
});
