import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  archivePaths,
  bringInParty,
  noticingDamage,
  openArchive,
  openPart,
  openTitle,
  type Archive,
} from '../../../src/archive/index.ts';
import { receiveFile } from '../../../src/archive/files/receive-file.ts';
import { Refusal, parseLogEntry, type LogEntry } from '../../../src/model/index.ts';
import { pieces, sha256Of, textOfStream } from '../blobs/streams.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';

const AT = Date.parse('2031-03-02T09:00:00Z');
const LATER = AT + 60_000;
const FILE = sha256Of('the dummy');
const LOOSE = sha256Of('a picture');

interface Damaged {
  readonly archive: Archive;
  readonly titleId: string;
  readonly fileId: string;
}

/** An archive with a file and a blob that is none, both damaged on disk. */
async function damagedArchive(): Promise<Damaged> {
  const folder = scratchFolder();
  const archive = await openArchive(folder, AT);
  const printer = await bringInParty(archive, null, { party: 'Offizin', person: 'Ada' }, AT);
  const ada = { personId: printer.person.id, partyId: printer.party.id };
  const publisher = await bringInParty(archive, ada, { party: 'Verlag', person: 'Bruno' }, AT);
  const sides = { publisherId: publisher.party.id, printerId: ada.partyId };
  const title = await openTitle(archive, ada, { name: 'Buch', ...sides }, AT);
  const part = await openPart(archive, ada, { titleId: title.id, kind: 'book-block' }, AT);
  const told = { partId: part.id, kind: 'revision', name: 'Buch.pdf', remark: '', replaces: null } as const;
  for (const text of ['the dummy', 'a picture']) {
    const { sha256 } = await archive.blobs.put(pieces(text));
    const path = join(archivePaths(folder).blobs, sha256.slice(0, 2), sha256);
    chmodSync(path, 0o644);
    writeFileSync(path, text.replace('i', 'j').replace('m', 'n'));
  }
  const file = await receiveFile(archive, ada, { ...told, sha256: FILE }, AT);
  const noticing = noticingDamage(
    archive,
    () => LATER,
    (error) => expect.fail(String(error)),
  );
  return { archive: noticing, titleId: title.id, fileId: file.id };
}

async function failures({ catalogue }: Archive): Promise<readonly LogEntry[]> {
  const entries = await catalogue.log.entries({ from: 0, most: 99 });
  return entries.map(({ bytes }) => parseLogEntry(bytes)).filter(({ kind }) => kind === 'failed-verification');
}

const damage = (sha256: string, found: string): string =>
  `blob ${sha256}: its bytes have the SHA-256 ${sha256Of(found)}`;

describe('damage that is found while something is read', () => {
  it('is an entry of the log, of the title that has the file, once; the reader is refused as before', async () => {
    const { archive, titleId, fileId } = await damagedArchive();
    for (const _time of ['once', 'again']) {
      expect(await laterRefusalOf(textOfStream(archive.blobs.read(FILE)))).toMatchObject({ kind: 'unreadable' });
      expect(await laterRefusalOf(archive.blobs.lend(FILE, () => Promise.resolve()))).toMatchObject({
        kind: 'unreadable',
      });
    }
    await expect
      .poll(() => failures(archive), { timeout: 20_000 })
      .toMatchObject([
        {
          title: titleId,
          at: '2031-03-02T09:01:00.000Z',
          by: { party: 'archive', person: null },
          subjects: [{ what: 'file', id: fileId, sha256: FILE }],
          remark: damage(FILE, 'the dunmy'),
        },
      ]);
    expect(await laterRefusalOf(textOfStream(archive.blobs.read(LOOSE)))).toMatchObject({ kind: 'unreadable' });
    await expect
      .poll(() => failures(archive), { timeout: 20_000 })
      .toMatchObject([
        { title: titleId },
        { title: null, subjects: [{ what: 'blob', id: LOOSE }], remark: damage(LOOSE, 'a pjcture') },
      ]);
    archive.close();
  });

  it('is recorded also where it is read within a transaction, and what somebody makes of a file is no damage', async () => {
    const { archive } = await damagedArchive();
    await archive.catalogue.together(async (tables) => {
      await laterRefusalOf(textOfStream(archive.blobs.read(LOOSE)));
      await tables.parties.add({ name: 'Studio', at: LATER });
    });
    await expect.poll(async () => (await failures(archive)).length, { timeout: 20_000 }).toBe(1);
    const { sha256 } = await archive.blobs.put(pieces('no book'));
    const noBook = new Refusal('unreadable', { file: 'Buch.pdf', reason: 'it is not a PDF file' });
    expect(await laterRefusalOf(archive.blobs.lend(sha256, () => Promise.reject(noBook)))).toMatchObject({
      file: 'Buch.pdf',
    });
    // One more of the same kind would be before it in the line.
    await archive.catalogue.together(async () => undefined);
    expect((await failures(archive)).length).toBe(1);
    archive.close();
  });
});
