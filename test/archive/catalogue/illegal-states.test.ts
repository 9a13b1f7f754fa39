import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../../src/archive/catalogue/database.ts';
import type { Database } from '../../../src/archive/catalogue/database.ts';
import type { Book } from './filled-catalogue.ts';
import { bookInCatalogue, fillUp, hashLike, sendFile } from './filled-catalogue.ts';

let book: Book;
let database: Database;

beforeAll(async () => {
  book = await bookInCatalogue();
  await fillUp(book);
  database = openDatabase(book.file, { readOnly: false });
});
afterAll(() => {
  database.close();
  book.catalogue.close();
});

/** A copy of a table's first row with other values, as somebody would insert it who knows no rules. */
function insertAltered(table: string, altered: Readonly<Record<string, string>>): void {
  const columns = database.all(`SELECT name FROM pragma_table_info('${table}')`).map(({ name }) => String(name));
  const values = columns.map((column) => altered[column] ?? column);
  database.exec(`INSERT INTO ${table} (${columns.join(', ')}) SELECT ${values.join(', ')} FROM ${table} LIMIT 1`);
}

const ID = `'abcdefghjkmnpqrs'`;
const CHECK = /^CHECK constraint failed/;

describe('what cannot be written down', () => {
  it.each([
    ['a party without a name', 'party', { id: ID, name: `'  '` }],
    ['a party with a name that is an id', 'party', { id: `'short'`, name: `'x'` }],
    ['a title between a party and itself', 'title', { id: ID, printer_id: 'publisher_id' }],
    ['a part that is neither block nor case nor jacket nor endpapers', 'part', { id: ID, kind: `'poster'` }],
    ['a blob whose name is no hash', 'blob', { sha256: `'${'G'.repeat(64)}'` }],
    ['a blob of less than nothing', 'blob', { sha256: `'${hashLike('b9')}'`, bytes: '-1' }],
    ['a file that is nothing', 'file', { id: ID, position: '5', kind: `'proof'` }],
    ['a dummy with a revision’s number', 'file', { id: ID, position: '5', revision_number: '3' }],
    ['a revision without a number', 'file', { id: ID, position: '5', kind: `'revision'` }],
    ['a dummy in which only some pages were sent', 'file', { id: ID, position: '5', laid_over_id: 'id' }],
    ['pages replaced from 5 back to 4', 'replaced_pages', { first_page: '5', last_page: '4' }],
    ['a page both read and unreadable', 'page', { page_number: '1', unreadable: `'torn'` }],
    ['a page neither read nor unreadable', 'page', { content_hash: 'NULL', width_mm: 'NULL', height_mm: 'NULL' }],
    ['a page without a height', 'page', { height_mm: 'NULL' }],
    ['sheets that fold in no way', 'said_folding', { fold: 'NULL' }],
    ['sheets that fold by rules that are none', 'said_folding', { working: `'twice'` }],
    ['sheets that fold in no way when it is said again', 'folding_said_again', { number: '2', fold: 'NULL' }],
    ['a plan of a book without pages', 'given_plan', { pages: '0' }],
    ['a report of a file on itself', 'report', { id: ID, file_id: 'dummy_id' }],
    ['a report that says perhaps', 'report', { id: ID, verdict: `'perhaps'`, terms: `'${hashLike('e9')}'` }],
    ['a finding that weighs nothing', 'finding_in_report', { mark: `'f9'`, weight: `'none'` }],
    ['a remark that says nothing', 'finding_remark', { log_index: '1', text: `' '` }],
    ['a leaf with half a hash', 'log_entry', { log_index: '3', leaf_hash: `x'00'` }],
    ['a statement of a kind that nobody knows', 'statement', { id: `'${hashLike('59')}'`, kind: `'promise'` }],
    ['a ruling that pertains to no part', 'statement', { id: `'${hashLike('59')}'`, part_id: 'NULL' }],
    ['a ruling on nobody’s account', 'ruling', { account: `'nobody'` }],
    [
      'a time-stamp that is held without a token',
      'time_stamp',
      { authority: `'b'`, state: `'held'`, held_ms: '9', next_try_ms: 'NULL' },
    ],
    ['a time-stamp that is pending with a token', 'time_stamp', { authority: `'b'`, token: `x'00'` }],
    [
      'a job that runs without an owner',
      'job',
      { id: ID, key: `'k'`, state: `'running'`, tries: '1', lease_until_ms: '9' },
    ],
    ['a job that runs without an end', 'job', { id: ID, key: `'k'`, state: `'running'`, tries: '1', owner: `'me'` }],
    ['a job that waits and is owned', 'job', { id: ID, key: `'k'`, owner: `'me'`, lease_until_ms: '9' }],
    ['a job that failed without a cause', 'job', { id: ID, key: `'k'`, state: `'failed'` }],
    ['a job that is done without a result', 'job', { id: ID, key: `'k'`, state: `'done'` }],
    ['a job further than its end', 'job', { id: ID, key: `'k'`, steps_done: '2', steps_total: '1' }],
    ['a job tried too often', 'job', { id: ID, key: `'k'`, tries: '6' }],
    ['a job whose order is no JSON', 'job', { id: ID, key: `'k'`, order_json: `'{'` }],
    ['an account with a password in the clear', 'account', { sign_in_name: `'b'`, password_hash: `'secret'` }],
    [
      'a session of nobody',
      'entrance',
      { token_hash: `'${hashLike('71')}'`, kind: `'session'`, until_ms: '10', person_id: 'NULL' },
    ],
    ['a session that never ends', 'entrance', { token_hash: `'${hashLike('71')}'`, kind: `'session'` }],
    ['a token kept in the clear', 'entrance', { token_hash: `'secret'` }],
  ])('%s', (_says, table, altered) => expect(() => insertAltered(table, altered)).toThrow(CHECK));

  it('a number as text', () => {
    expect(() => insertAltered('blob', { sha256: `'${hashLike('b9')}'`, bytes: `'many'` })).toThrow(
      /TEXT value in INTEGER/,
    );
  });

  it.each([
    ['a file of a part that is not there', 'file', { id: ID, position: '1', part_id: ID }],
    ['a file whose bytes nobody has', 'file', { id: ID, position: '5', blob: `'${hashLike('b9')}'` }],
    ['a person of no party', 'person', { id: ID, party_id: ID }],
    [
      'a statement without its entry in the log',
      'statement',
      { id: `'${hashLike('59')}'`, bytes_hash: `'${hashLike('59')}'`, log_index: '77' },
    ],
  ])('%s', (_says, table, altered) => expect(() => insertAltered(table, altered)).toThrow(/FOREIGN KEY/));

  it.each([
    ['a file out of turn', 'file', { id: ID, position: '9' }, 'file: numbers follow each other without a gap'],
    ['a page beyond the last one', 'page', { page_number: '2' }, 'page: beyond the last page'],
    [
      'a page replaced twice',
      'replaced_pages',
      { first_page: '3', last_page: '5' },
      'replaced_pages: a page is replaced twice',
    ],
    [
      'a folding that is said again out of turn',
      'folding_said_again',
      { number: '3' },
      'folding_said_again: numbers follow each other without a gap',
    ],
    [
      'a folding said again of a revision',
      'folding_said_again',
      { file_id: `(SELECT id FROM file WHERE kind = 'revision')` },
      'folding_said_again: only a whole plates input is folded',
    ],
    ['an entry that leaves a gap', 'log_entry', { log_index: '4' }, 'log_entry: an entry follows the last one'],
    [
      'a node above entries that are not there',
      'log_node',
      { level: '2' },
      'log_node: the entries below are not there yet',
    ],
    ['a head larger than the log', 'checkpoint', { tree_size: '4' }, 'checkpoint: larger than the log'],
    ['a right given twice', 'right_change', { seq: '99' }, 'right_change: this right is held already'],
    ['sight given twice', 'sight_change', { seq: '99' }, 'sight_change: this party sees the title already'],
    [
      'a report that starts from a revision',
      'report',
      { id: ID, dummy_id: 'file_id', file_id: 'dummy_id' },
      'report: what is compared with is not a dummy',
    ],
    [
      'a ruling in a statement of another kind',
      'ruling',
      { statement: `'${hashLike('51')}'` },
      'ruling: not of a ruling statement on this part',
    ],
  ])('%s', (_says, table, altered, message) => expect(() => insertAltered(table, altered)).toThrow(message));
});

describe('between two parts', () => {
  it('nothing is mixed: no page of one is laid over the other, no report compares them', async () => {
    const { catalogue, title, dummy } = book;
    const jacket = await catalogue.titles.addPart({ titleId: title.id, kind: 'jacket', at: 9 });
    const other = { ...book, part: jacket };
    const laid = sendFile(other, 'revision', hashLike('a8'), { fileId: dummy.id, pages: [{ first: 1, last: 1 }] });
    await expect(laid).rejects.toThrow(/FOREIGN KEY/);
    const revision = await sendFile(other, 'revision', hashLike('a9'));
    const report = { dummyId: dummy.id, fileId: revision.id, terms: hashLike('e3'), verdict: 'match' } as const;
    for (const partId of [book.part.id, jacket.id]) {
      const adding = catalogue.reports.add({ ...report, partId, sha256: hashLike('a9'), at: 9 });
      await expect(adding).rejects.toThrow(/FOREIGN KEY/);
    }
  });
});

describe('certificates', () => {
  it('are not confirmed by their own party, nor after they were revoked', () => {
    const confirm = (certificate: string, party: string): void =>
      database.exec(
        `INSERT INTO certificate_confirmation VALUES ('${hashLike(certificate)}', '${party}', '${hashLike('51')}')`,
      );
    expect(() => confirm('ce2', book.printer.id)).toThrow('certificate_confirmation: not stated by another party');
    expect(() => confirm('ce1', book.publisher.id)).toThrow(/^certificate_confirmation: /);
  });

  it('are not revoked by another party', () => {
    const revoke = (): void =>
      database.exec(`INSERT INTO certificate_revocation VALUES ('${hashLike('ce2')}', '${hashLike('52')}', 9)`);
    expect(revoke).toThrow('certificate_revocation: not stated by its own party');
  });
});
