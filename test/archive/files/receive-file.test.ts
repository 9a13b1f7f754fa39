import { beforeAll, describe, expect, it } from 'vitest';
import { receiveFile } from '../../../src/archive/index.ts';
import type { Actor, FileToReceive, SentFile } from '../../../src/archive/index.ts';
import { parseLogEntry } from '../../../src/model/index.ts';
import { openFileDesk } from '../checking/file-desk.ts';
import type { FileDesk } from '../checking/file-desk.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';

let desk: FileDesk;
let sha256 = '';
beforeAll(async () => {
  desk = await openFileDesk();
  async function* bytes(): AsyncGenerator<Uint8Array> {
    yield Buffer.from('a book');
  }
  sha256 = (await desk.archive.blobs.put(bytes())).sha256;
});

const actorOf = ({ id, partyId }: FileDesk['editor']): Actor => ({ personId: id, partyId });

function receive(more: Partial<FileToReceive> = {}, actor = actorOf(desk.editor)): Promise<SentFile> {
  const given = {
    partId: desk.part.id,
    kind: 'revision' as const,
    name: 'book.pdf',
    remark: '',
    replaces: null,
    sha256,
  };
  return receiveFile(desk.archive, actor, { ...given, ...more }, 1_700_000_100_000);
}

describe('a file that arrives', () => {
  it('K14 is in its part, in the log and in line to be read, with what its sender said', async () => {
    const { archive, part, foreman } = desk;
    const below = await receive();
    const pages = [
      { first: 12, last: 13 },
      { first: 4, last: 4 },
    ];
    const file = await receive({ name: ' spread.pdf ', remark: 'as on the phone', replaces: pages }, actorOf(foreman));
    const sorted = [pages[1], pages[0]];
    expect(file).toMatchObject({ name: 'spread.pdf', senderId: foreman.id, sha256 });
    expect(await archive.catalogue.files.get(file.id)).toEqual(file);
    expect(file.replaces).toEqual({ fileId: below.id, pages: sorted });
    const { kind, by, subjects, remark } = parseLogEntry(
      (await archive.catalogue.log.ofTitle(part.titleId, { from: 0, most: 100 })).at(-1)!.bytes,
    );
    expect({ kind, by, subjects, remark }).toEqual({
      kind: 'upload',
      by: { party: 'printer', person: foreman.id },
      subjects: [
        { what: 'file', id: file.id, sha256 },
        { what: 'part', id: part.id, sha256: null },
        { what: 'laid-over', id: below.id, sha256 },
      ],
      remark: 'revision 2: spread.pdf, pages 4, 12-13 over revision 1; as on the phone',
    });
    expect(await archive.catalogue.jobs.byKey(`read/${file.id}`)).toMatchObject({ kind: 'read', state: 'waiting' });
  });

  it('for the plates is laid over the latest file, and a revision over the latest revision', async () => {
    const revision = await receive();
    const plates = await receive({ kind: 'plates-input' });
    const replaces = [{ first: 1, last: 1 }];
    const [one, other] = [await receive({ kind: 'plates-input', replaces }), await receive({ replaces })];
    expect([one.replaces?.fileId, other.replaces?.fileId]).toEqual([plates.id, revision.id]);
  });

  it('is refused where it makes no sense, and nothing is left of it', async () => {
    const before = [await desk.archive.catalogue.log.size(), await desk.archive.catalogue.files.ofPart(desk.part.id)];
    const malformed = (pointer: string, expected: string, found: string): unknown => ({
      ...{ kind: 'malformed', pointer, expected, found },
    });
    const refusals = [
      receive({ name: ' ' }),
      receive({ remark: 'x'.repeat(10_001) }),
      receive({ kind: 'dummy', replaces: [{ first: 1, last: 1 }] }),
      receive({ replaces: [] }),
      receive({ replaces: [{ first: 3, last: 2 }] }),
      receive({
        replaces: [
          { first: 1, last: 4 },
          { first: 4, last: 5 },
        ],
      }),
      receive({ sha256: '0'.repeat(64) }),
    ].map(laterRefusalOf);
    expect(await Promise.all(refusals)).toEqual([
      malformed('/name', 'a name', 'nothing'),
      malformed('/remark', 'at most 10000 characters', '10001'),
      malformed('/replaces', 'a whole dummy', 'some pages of one'),
      malformed('/replaces', 'at least one range of pages', 'none'),
      malformed('/replaces', 'pages from 1, the first one first', 'pages 3-2'),
      malformed('/replaces', 'each page at most once', 'page 4 again'),
      { kind: 'not-found', what: 'the file’s bytes' },
    ]);
    const now = [await desk.archive.catalogue.log.size(), await desk.archive.catalogue.files.ofPart(desk.part.id)];
    expect(now).toEqual(before);
  });

  it('is refused from strangers as if there were no such part, and from those who may only look', async () => {
    const { catalogue } = desk.archive;
    const studio = await catalogue.parties.add({ name: 'Studio', at: 1 });
    const rights = ['look', 'send-files'] as const;
    const stranger = await catalogue.people.add({ partyId: studio.id, name: 'Cem', rights, byPersonId: null, at: 1 });
    const looker = await catalogue.people.add({
      ...{ partyId: desk.editor.partyId, name: 'Dora', rights: ['look'], byPersonId: null, at: 1 },
    });
    expect(await laterRefusalOf(receive({}, actorOf(stranger)))).toEqual({ kind: 'not-found', what: 'part' });
    expect(await laterRefusalOf(receive({ partId: 'none' }))).toEqual({ kind: 'not-found', what: 'part' });
    expect(await laterRefusalOf(receive({}, actorOf(looker)))).toMatchObject({ kind: 'not-allowed' });
  });
});
