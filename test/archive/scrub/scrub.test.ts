import { chmodSync, cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { isSound, openArchive, scrubArchive } from '../../../src/archive/index.ts';
import { pieces, sha256Of, textOfStream } from '../blobs/streams.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';

const TEXTS = ['the dummy', 'the first revision', 'the second'];
const CLEAN = {
  blobs: 3,
  bytes: TEXTS.join('').length,
  damaged: [],
  missing: [],
  unknown: [],
  arriving: [],
  setAside: [],
  foreign: [],
  catalogueFaults: [],
  entries: 1,
  logFaults: [],
};

async function archiveWith(texts: readonly string[]): Promise<{ folder: string; pathOf: (text: string) => string }> {
  const folder = scratchFolder();
  const archive = await openArchive(folder, 1);
  for (const text of texts) await archive.catalogue.blobs.add({ ...(await archive.blobs.put(pieces(text))), at: 2 });
  archive.close();
  const pathOf = (text: string): string => join(folder, 'blobs', sha256Of(text).slice(0, 2), sha256Of(text));
  return { folder, pathOf };
}

function spoil(path: string, text: string): void {
  chmodSync(path, 0o644);
  writeFileSync(path, text);
}

describe('a scrub', () => {
  it('finds nothing in an archive that is whole', async () => {
    const { folder } = await archiveWith(TEXTS);
    const found = await scrubArchive(folder);
    expect([found, isSound(found)]).toEqual([CLEAN, true]);
  });

  it('finds a single turned bit', async () => {
    const { folder, pathOf } = await archiveWith(TEXTS);
    const bytes = readFileSync(pathOf('the second'));
    bytes[3] = bytes[3]! ^ 1;
    spoil(pathOf('the second'), bytes.toString());
    const found = await scrubArchive(folder);
    const reason = `its bytes have the SHA-256 ${sha256Of(bytes)}`;
    expect(found).toEqual({ ...CLEAN, damaged: [{ sha256: sha256Of('the second'), reason }] });
    expect(isSound(found)).toBe(false);
  });

  it('finds what is gone', async () => {
    const { folder, pathOf } = await archiveWith(TEXTS);
    rmSync(pathOf('the dummy'));
    const found = await scrubArchive(folder);
    expect(found).toMatchObject({ blobs: 2, missing: [sha256Of('the dummy')] });
    expect(isSound(found)).toBe(false);
  });

  it('tells of a blob that the catalogue does not know, which the next start mends', async () => {
    const { folder } = await archiveWith(TEXTS);
    const archive = await openArchive(folder, 3);
    await archive.blobs.put(pieces('killed before the catalogue'));
    const found = await scrubArchive(folder);
    archive.close();
    expect([found.unknown, isSound(found)]).toEqual([[sha256Of('killed before the catalogue')], true]);
    (await openArchive(folder, 4)).close();
    expect((await scrubArchive(folder)).unknown).toEqual([]);
  });

  it('finds what nobody of this house has put there', async () => {
    const { folder } = await archiveWith(TEXTS);
    writeFileSync(join(folder, 'blobs', 'notes.txt'), '');
    writeFileSync(join(folder, 'blobs', sha256Of('the dummy').slice(0, 2), 'copy.pdf'), '');
    const found = await scrubArchive(folder);
    expect(found.foreign).toEqual([`${sha256Of('the dummy').slice(0, 2)}/copy.pdf`, 'notes.txt'].sort());
    expect(isSound(found)).toBe(false);
  });

  it('finds a catalogue whose rows refer to nothing', async () => {
    const { folder } = await archiveWith(TEXTS);
    const { DatabaseSync } = await import('node:sqlite');
    const database = new DatabaseSync(join(folder, 'catalogue.sqlite'));
    database.exec(`PRAGMA foreign_keys = OFF;
      INSERT INTO person VALUES ('aaaaaaaaaaaaaaaa', 'bbbbbbbbbbbbbbbb', 'Nobody', 1)`);
    database.close();
    const found = await scrubArchive(folder);
    expect([found.catalogueFaults, isSound(found)]).toEqual([
      ['person: a row refers to party bbbbbbbbbbbbbbbb, which is not there'],
      false,
    ]);
  });

  it('works beside a service that is in the middle of a transaction', async () => {
    const { folder } = await archiveWith(TEXTS);
    const archive = await openArchive(folder, 3);
    const found = await archive.catalogue.together(async (tables) => {
      await tables.parties.add({ name: 'Blattwerk', at: 4 });
      return scrubArchive(folder);
    });
    archive.close();
    expect(found).toEqual(CLEAN);
  });

  it('finds an archive whole that was copied while it was used and put up elsewhere', async () => {
    const { folder } = await archiveWith(TEXTS);
    const archive = await openArchive(folder, 3);
    const [elsewhere, later] = [join(scratchFolder(), 'archive'), 'sent while it is copied'];
    mkdirSync(elsewhere);
    await archive.catalogue.backUp(join(elsewhere, 'catalogue.sqlite'));
    await archive.catalogue.blobs.add({ ...(await archive.blobs.put(pieces(later))), at: 4 });
    for (const name of ['blobs', 'keys']) cpSync(join(folder, name), join(elsewhere, name), { recursive: true });
    archive.close();
    const bytes = CLEAN.bytes + later.length;
    expect(await scrubArchive(elsewhere)).toEqual({ ...CLEAN, blobs: 4, bytes, unknown: [sha256Of(later)] });
    const restored = await openArchive(elsewhere, 5);
    expect(await textOfStream(restored.blobs.read(sha256Of('the dummy')))).toBe('the dummy');
    restored.close();
    expect(await scrubArchive(elsewhere)).toEqual({ ...CLEAN, blobs: 4, bytes });
  });

  it('changes nothing, and makes no archive where there is none', async () => {
    const folder = scratchFolder();
    expect(await laterRefusalOf(scrubArchive(folder))).toEqual({ kind: 'not-found', what: `${folder}: an archive` });
  });
});
