import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fileFindings, readReport, startPageWorkers } from '../../src/archive/index.ts';
import type { Report } from '../../src/model/index.ts';
import { DEFAULT_LIMITS } from '../../src/model/index.ts';
import { checkOf } from './check-of.ts';
import { openFileDesk } from './checking/file-desk.ts';
import type { SmallPage } from './small-book.ts';
import { scratchFolder, writeBook } from './small-book.ts';

const PAGES: readonly SmallPage[] = [
  { lines: ['The lamp stood in the window,', 'and nobody had lit it.'] },
  { lines: ['Eleven boats were drawn up', 'on the shingle that night.'], tint: '#88aacc' },
  { lines: ['A third page, for the order.'], tint: '#ccaa44' },
  { lines: ['The road goes on from there', 'to the lighthouse and the cliff.'], tint: '#447755' },
  { lines: ['And the last one of all.'] },
];
/** The same pages made otherwise: not one has the content of the dummy's, and all show the same. */
const AS_FINAL = PAGES.map((page): SmallPage => ({ ...page, raw: '1 0 0 1 0 0 cm' }));

const pool = startPageWorkers(1, DEFAULT_LIMITS);
const asked: { do: string; pageNumber?: number }[] = [];
/** Lends the workers and notes what they are asked for. */
const workers: typeof pool = {
  ...pool,
  run: (job, options) => {
    asked.push(job as (typeof asked)[number]);
    return pool.run(job, options);
  },
};

let folder = '';
let dummy = '';
beforeAll(async () => {
  folder = await scratchFolder();
  dummy = await writeBook(join(folder, 'dummy.pdf'), PAGES);
});
afterAll(async () => {
  await pool.close();
  await rm(folder, { recursive: true, force: true });
});

/** The report on a file, and which of its work was done. */
async function check(
  revision: string,
  keptFolder: string | null,
  against = dummy,
): Promise<{ report: Report; drawn: number[]; compared: number }> {
  asked.length = 0;
  const report = await checkOf(against, revision, { keptFolder, workers });
  const drawn = asked.filter((job) => job.do === 'draw').map(({ pageNumber }) => pageNumber!);
  return { report, drawn: drawn.sort((a, b) => a - b), compared: asked.filter((job) => job.do === 'compare').length };
}

describe('facts of pages are kept by what the pages are made of', () => {
  test('a revision with one page changed and one put in front costs these two, and is told as if nothing were known', async () => {
    const kept = join(folder, 'kept-revision');
    const first = await writeBook(join(folder, 'final-1.pdf'), AS_FINAL);
    const known = await check(first, kept);
    expect([known.report.verdict, known.drawn, known.compared]).toEqual(['match', [1, 1, 2, 2, 3, 3, 4, 4, 5, 5], 5]);

    const changed = { ...AS_FINAL[1]!, lines: ['Eleven goats were drawn up', 'on the shingle that night.'] };
    const pages = [{ lines: ['Put in before everything.'], tint: '#aa3333' }, ...AS_FINAL.with(1, changed)];
    const second = await writeBook(join(folder, 'final-2.pdf'), pages);
    const again = await check(second, kept);
    expect([again.drawn, again.compared]).toEqual([[1, 3], 1]);
    expect(again.report.findings.map(({ kind, dummyPage, revisionPage }) => [kind, dummyPage, revisionPage])).toEqual([
      ['page-added', null, 1],
      ['text-changed', 2, 3],
    ]);
    expect(again.report).toEqual((await check(second, null)).report);
  });

  test('a finding stands on its page, also where that was found under another number before', async () => {
    const kept = join(folder, 'kept-finding');
    const faulty = AS_FINAL.with(3, { ...AS_FINAL[3]!, tint: '#aa4455' });
    await check(await writeBook(join(folder, 'faulty.pdf'), faulty), kept);
    const moved = await writeBook(join(folder, 'moved.pdf'), [{ lines: ['Put in before everything.'] }, ...faulty]);
    const again = await check(moved, kept);
    expect(again.compared).toBe(0);
    expect(again.report.findings.map(({ kind, dummyPage, revisionPage }) => [kind, dummyPage, revisionPage])).toEqual([
      ['page-added', null, 1],
      ['artwork-changed', 4, 5],
    ]);
  });

  test('the same pages in another dummy and another file are known', async () => {
    const kept = join(folder, 'kept-elsewhere');
    await check(await writeBook(join(folder, 'whole.pdf'), AS_FINAL), kept);
    const part = await writeBook(join(folder, 'part-of-dummy.pdf'), PAGES.slice(1, 4));
    const own = await writeBook(join(folder, 'part.pdf'), AS_FINAL.slice(1, 4));
    const again = await check(own, kept, part);
    expect([again.report.verdict, again.drawn]).toEqual(['match', []]);
  });
});

test('in the service a page that was seen under one title is not drawn again for another, and says nothing of the first', async () => {
  const desk = await openFileDesk({ pool: workers, drawReport: () => Promise.resolve(0) });
  const { titles, parties, people } = desk.archive.catalogue;
  const first = await desk.sendPages(PAGES, { kind: 'dummy' });
  const final = await desk.sendPages(AS_FINAL);
  await desk.workOff();

  const owner = await parties.add({ name: 'Ein anderer Verlag', at: 1 });
  const by = await people.add({
    partyId: owner.id,
    name: 'Cleo',
    rights: ['look', 'send-files'],
    byPersonId: null,
    at: 1,
  });
  const given = { publisherId: owner.id, printerId: desk.foreman.partyId, byPersonId: by.id, at: 1 };
  const other = await titles.add({ name: 'Other leaves', ...given });
  const part = await titles.addPart({ titleId: other.id, kind: 'book-block', at: 1 });
  asked.length = 0;
  await desk.sendPages(PAGES.slice(1), { kind: 'dummy', part, by });
  const file = await desk.sendPages(AS_FINAL.slice(1), { part, by });
  await desk.workOff();
  expect(asked.filter((job) => job.do === 'draw')).toEqual([]);
  const own = await fileFindings(desk.archive, file.id);
  expect([own?.report.verdict, own?.findings]).toEqual(['match', []]);
  const report = JSON.stringify(await readReport(desk.archive.blobs, own!.report.sha256));
  for (const { sha256 } of [first, final]) expect(report).not.toContain(sha256);
});
