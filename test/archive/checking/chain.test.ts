import { describe, expect, it } from 'vitest';
import { fileFindings, pageHistory } from '../../../src/archive/index.ts';
import type { FileFinding, SentFile } from '../../../src/archive/index.ts';
import type { SmallPage } from '../small-book.ts';
import { openFileDesk } from './file-desk.ts';
import type { FileDesk } from './file-desk.ts';

const FIRST: SmallPage = { lines: ['The harbour in the morning', 'and the boats of the night before'] };
const SECOND: SmallPage = { lines: ['Nets are mended on the quay', 'by those who went out last'], tint: '#3366aa' };
const GREEN: SmallPage = { ...SECOND, tint: '#33aa66' };
/** Looks like the green page, and is drawn by other marks. */
const GREEN_DRAWN_ANEW: SmallPage = { ...GREEN, raw: 'q Q' };
const GREEN_WITH_OTHER_WORDS: SmallPage = {
  ...GREEN,
  lines: ['Nets are mended on the pier', 'by those who went out last'],
};
const RED: SmallPage = { ...SECOND, tint: '#aa3322' };

async function findingsOf({ archive }: FileDesk, file: SentFile): Promise<readonly FileFinding[]> {
  return (await fileFindings(archive, file.id))?.findings ?? [];
}

/** Sends a dummy, then the second page as it is in each revision, one after the other. */
async function chain(...pages: readonly SmallPage[]): Promise<{ desk: FileDesk; files: SentFile[]; ids: string[][] }> {
  const desk = await openFileDesk({ drawReport: async () => 0 });
  await desk.sendPages([FIRST, SECOND], { kind: 'dummy' });
  const files: SentFile[] = [];
  for (const page of pages) {
    files.push(await desk.sendPages([FIRST, page], { by: files.length % 2 === 0 ? desk.foreman : desk.editor }));
    await desk.workOff();
  }
  const ids = await Promise.all(files.map(async (file) => (await findingsOf(desk, file)).map(({ id }) => id)));
  return { desk, files, ids };
}

describe('a finding', () => {
  it('K16 stays the same one while its place shows the same, also where the page is drawn anew or changes elsewhere', async () => {
    const { ids } = await chain(GREEN, GREEN_DRAWN_ANEW, GREEN_WITH_OTHER_WORDS);
    const [[green] = [], again, withWords] = ids;
    expect([again, withWords?.length]).toEqual([[green], 2]);
    expect(withWords).toContain(green);
  });

  it('K16 comes back as a new one when its place changes again, and is the old one when that is taken back', async () => {
    const { desk, files, ids } = await chain(GREEN, RED, GREEN);
    const [[green] = [], [red] = [], again] = ids;
    expect(red).not.toBe(green);
    expect(again).toEqual([green]);
    const [finding] = await findingsOf(desk, files[2]!);
    expect(finding?.states.map(({ file, state }) => [file.revisionNumber, state])).toEqual([
      [1, 'there'],
      [2, 'changed'],
      [3, 'there'],
    ]);
  });

  it('knows the file that introduced it, its sender and its remark, and its state in every file since', async () => {
    const { desk, files } = await chain(SECOND, GREEN, GREEN_DRAWN_ANEW, SECOND);
    const [finding] = await findingsOf(desk, files[2]!);
    const { senderId, revisionNumber, atMs } = finding!.firstFile;
    expect([revisionNumber, senderId, atMs]).toEqual([2, desk.editor.id, files[1]!.atMs]);
    expect(finding?.states.map(({ file, state, mark }) => [file.revisionNumber, state, mark])).toEqual([
      [2, 'there', 'f1'],
      [3, 'there', 'f1'],
      [4, 'gone', null],
    ]);
  });

  it('is one finding in files that were sent together and compared side by side', async () => {
    const desk = await openFileDesk({ drawReport: async () => 0 });
    await desk.sendPages([FIRST, SECOND], { kind: 'dummy' });
    const files = [GREEN, GREEN_DRAWN_ANEW, RED, GREEN].map((page) => desk.sendPages([FIRST, page]));
    const sent = await Promise.all(files);
    await desk.workOff();
    const ids = await Promise.all(sent.map(async (file) => (await findingsOf(desk, file)).map(({ id }) => id)));
    expect([new Set(ids.flat()).size, ids[1], ids[3]]).toEqual([2, ids[0], ids[0]]);
  });

  it('about a missing page is the same while the page is missing', async () => {
    const desk = await openFileDesk({ drawReport: async () => 0 });
    await desk.sendPages([FIRST, SECOND], { kind: 'dummy' });
    const [one, other] = [await desk.sendPages([FIRST]), await desk.sendPages([{ ...FIRST, raw: 'q Q' }])];
    await desk.workOff();
    const [before, now] = [await findingsOf(desk, one), await findingsOf(desk, other)];
    expect(before.map(({ finding }) => finding.kind)).toEqual(['page-missing']);
    expect(now.map(({ id }) => id)).toEqual(before.map(({ id }) => id));
  });
});

describe('the history of a page', () => {
  it('is the dummy and then each file with its state and its content', async () => {
    const { desk, files } = await chain(SECOND, GREEN, GREEN);
    const [dummy] = await desk.archive.catalogue.files.ofPart(desk.part.id);
    const history = await pageHistory(desk.archive, dummy!, 2);
    expect(history.map(({ file, state, pageNumber }) => [file.id, state, pageNumber])).toEqual([
      [dummy!.id, 'dummy', 2],
      [files[0]!.id, 'same-content', 2],
      [files[1]!.id, 'differs', 2],
      [files[2]!.id, 'differs', 2],
    ]);
    const hashes = history.map(({ contentHash }) => contentHash);
    expect([hashes[0] === hashes[1], hashes[2] === hashes[3], hashes[0] === hashes[2]]).toEqual([true, true, false]);
    expect(await pageHistory(desk.archive, dummy!, 3)).toEqual([]);
  });
});
