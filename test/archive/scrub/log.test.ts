import { beforeAll, afterAll, describe, expect, it } from 'vitest';
import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { archivePaths, isSound, scrubArchive } from '../../../src/archive/index.ts';
import { openDatabase, type Values } from '../../../src/archive/catalogue/database.ts';
import { formatLogEntry, parseLogEntry } from '../../../src/model/index.ts';
import { scratchFolder } from '../scratch.ts';
import { dummyInForce, twoParties, type TwoParties } from '../two-parties.ts';

let sides: TwoParties;
let last: { readonly id: string; readonly logIndex: number };
beforeAll(async () => {
  sides = await twoParties();
  await dummyInForce(sides);
  last = (await sides.archive.catalogue.statements.ofTitle(sides.title.id)).at(-1)!;
});
afterAll(() => sides.archive.close());

/** Of a copy in which somebody with the database in their hands has changed something. */
async function scrubAfter(sql: string, values: Values = {}): Promise<readonly string[]> {
  const folder = join(scratchFolder(), 'archive');
  await sides.archive.catalogue.backUp(archivePaths(scratchTo(folder)).catalogue);
  const database = openDatabase(archivePaths(folder).catalogue, { readOnly: false });
  for (const { name } of database.all(`SELECT name FROM sqlite_schema WHERE type = 'trigger'`)) {
    database.exec(`DROP TRIGGER "${String(name)}"`);
  }
  database.exec('PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON');
  database.run(sql, values);
  database.close();
  const found = await scrubArchive(folder);
  expect(isSound(found)).toBe(false);
  return [...found.catalogueFaults, ...found.logFaults];
}

function scratchTo(folder: string): string {
  cpSync(sides.folder, folder, { recursive: true, filter: (path) => !path.includes('catalogue.sqlite') });
  return folder;
}

describe('a scrub of the log', () => {
  it('finds the log of an archive in use whole, with its statements', async () => {
    const found = await scrubArchive(sides.folder);
    expect([found.entries, found.logFaults, isSound(found)]).toEqual([last.logIndex + 1, [], true]);
  });

  it('names an entry that was changed', async () => {
    const { bytes } = (await sides.archive.catalogue.log.entry(3))!;
    const forged = formatLogEntry({ ...parseLogEntry(bytes), at: '2026-11-20T09:00:00.000Z' });
    const faults = await scrubAfter('UPDATE log_entry SET bytes = :forged WHERE log_index = 3', { forged });
    expect(faults).toEqual(
      expect.arrayContaining([
        'entry 3 is not what its hash says',
        'hash 3 of level 0 is another',
        `head ${last.logIndex + 1} has another root`,
      ]),
    );
  });

  it('names a head that was cut short', async () => {
    const size = last.logIndex + 1;
    expect(
      await scrubAfter('UPDATE checkpoint SET note = substr(note, 1, length(note) - 10) WHERE tree_size = :size', {
        size,
      }),
    ).toEqual([`head ${size} is not signed by the archive`]);
  });

  it('tells that the newest head is gone', async () => {
    const size = last.logIndex + 1;
    expect(await scrubAfter('DELETE FROM checkpoint WHERE tree_size = :size', { size })).toContain(
      `the latest head covers ${size - 1} of ${size} entries`,
    );
  });

  it('names a head that a statement rests on and that is gone', async () => {
    const faults = await scrubAfter('DELETE FROM checkpoint WHERE tree_size = :size', { size: last.logIndex });
    expect(faults).toContain(`head ${last.logIndex}, which the statement of entry ${last.logIndex} names, is missing`);
  });

  it('names a statement whose signature was exchanged, and one that is gone', async () => {
    const entry = last.logIndex;
    const signature = Uint8Array.of(1);
    expect(
      await scrubAfter('UPDATE statement SET signature = :signature WHERE id = :id', { id: last.id, signature }),
    ).toEqual([`the statement of entry ${entry} is another`]);
    expect(await scrubAfter('DELETE FROM statement WHERE id = :id', { id: last.id })).toContain(
      `the statement of entry ${entry} is missing`,
    );
  });

  it('verifies each signature under its certificate: another one in its place is found', async () => {
    const der = sides.publisher.key.certificate;
    const own = sides.printer.certificate;
    const faults = await scrubAfter('UPDATE certificate SET der = :der WHERE fingerprint = :own', { der, own });
    expect(
      faults.filter((fault) => fault.startsWith(`the signature of the statement of entry ${last.logIndex} `)),
    ).not.toEqual([]);
  });

  it('names a blob that a file counts on and the catalogue has lost', async () => {
    const file = (await sides.archive.catalogue.files.ofPart(sides.part.id))[0]!;
    const faults = await scrubAfter('DELETE FROM blob WHERE sha256 = :sha256', { sha256: file.sha256 });
    expect(faults).toContain(`file: a row refers to blob ${file.sha256}, which is not there`);
  });

  it('names a blob that lies nowhere any more', async () => {
    const folder = join(scratchFolder(), 'archive');
    await sides.archive.catalogue.backUp(archivePaths(scratchTo(folder)).catalogue);
    const { sha256 } = (await sides.archive.catalogue.files.ofPart(sides.part.id))[0]!;
    rmSync(join(archivePaths(folder).blobs, sha256.slice(0, 2), sha256));
    expect((await scrubArchive(folder)).missing).toEqual([sha256]);
  });
});
