import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CheckRequest, Progress } from '../../src/archive/index.ts';
import { startPageWorkers } from '../../src/archive/index.ts';
import type { Limits, Report } from '../../src/model/index.ts';
import { DEFAULT_LIMITS } from '../../src/model/index.ts';
import { checkOf } from './check-of.ts';
import type { SmallPage } from './small-book.ts';
import { scratchFolder, writeBook } from './small-book.ts';

const PAGES: readonly SmallPage[] = [
  { lines: ['The lamp stood in the window,', 'and nobody had lit it.'] },
  { lines: ['Eleven boats were drawn up', 'on the shingle that night.'], tint: '#88aacc' },
  { lines: ['A third page, for the order.'], tint: '#ccaa44' },
  { lines: ['And the last one of all.'] },
];

let folder = '';
let dummy = '';

beforeAll(async () => {
  folder = await scratchFolder();
  dummy = await writeBook(join(folder, 'dummy.pdf'), PAGES);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const check = (revision: string, more: Partial<CheckRequest> = {}): Promise<Report> => checkOf(dummy, revision, more);

/** The dummy with one page in another state. */
function revisionWith(name: string, page: number, state: SmallPage): Promise<string> {
  return writeBook(join(folder, name), PAGES.with(page - 1, state));
}

const kinds = ({ findings }: Report): string[] =>
  findings.map(({ kind, dummyPage, revisionPage }) => `${kind} ${dummyPage} ${revisionPage}`);

describe('a revision against the dummy', () => {
  test('the same file matches, and no page of it is drawn', async () => {
    const told: Progress[] = [];
    const report = await check(dummy, { onProgress: (progress) => told.push(progress) });
    expect(report.verdict).toBe('match');
    expect(report.pages.map(({ state }) => state)).toEqual(Array(4).fill('same-content'));
    expect(told.filter(({ stage }) => stage === 'drawing')).toEqual([{ stage: 'drawing', done: 0, total: 0 }]);
  });

  test('one changed word is one finding that quotes it, and only its page differs', async () => {
    const revision = await revisionWith('word.pdf', 2, {
      lines: ['Eleven goats were drawn up', 'on the shingle that night.'],
      tint: '#88aacc',
    });
    const report = await check(revision);
    expect(kinds(report)).toEqual(['text-changed 2 2']);
    expect(report.findings[0]).toMatchObject({ id: 'f1', measured: { before: 'boats', after: 'goats' } });
    expect(report.pages.map(({ state }) => state)).toEqual(['same-content', 'differs', 'same-content', 'same-content']);
  });

  test('a page carried to the front is one move', async () => {
    const revision = await writeBook(join(folder, 'moved.pdf'), [PAGES[3]!, ...PAGES.slice(0, 3)]);
    expect(kinds(await check(revision))).toEqual(['page-moved 4 1']);
  });

  test('what was kept gives the same report again', async () => {
    const revision = await revisionWith('tint.pdf', 3, { ...PAGES[2]!, tint: '#44aa44' });
    const keptFolder = join(folder, 'kept');
    const first = await check(revision, { keptFolder });
    expect(kinds(first)).toEqual(['artwork-changed 3 3']);
    expect(await check(revision, { keptFolder })).toEqual(first);
    expect(await check(revision)).toEqual(first);
  });

  test('with a range of pages the report is about these alone', async () => {
    const pages = PAGES.with(0, { lines: ['Changed on page one.'] }).with(2, { ...PAGES[2]!, tint: '#44aa44' });
    const revision = await writeBook(join(folder, 'two.pdf'), pages);
    const report = await check(revision, { pages: { first: 3, last: 4 } });
    expect(kinds(report)).toEqual(['artwork-changed 3 3']);
    expect(report.pages.map(({ revisionPage }) => revisionPage)).toEqual([3, 4]);
  });
});

describe('a page that cannot be compared', () => {
  const unfolding: Limits = { ...DEFAULT_LIMITS, operators: 2000 };
  const endless: SmallPage = { raw: '0 0 m 1 1 l S '.repeat(1000) };

  test('is told with its cause and its partner, and the other pages are compared', async () => {
    const revision = await writeBook(
      join(folder, 'endless.pdf'),
      PAGES.with(1, endless).with(3, { lines: ['And the lost one of all.'] }),
    );
    const report = await check(revision, { limits: unfolding });
    expect(kinds(report)).toEqual(['page-unreadable 2 2', 'text-changed 4 4']);
    expect(report.findings[0]).toMatchObject({ weight: 'stop', measured: { file: 'revision' } });
    expect(report.pages[1]).toMatchObject({ dummyPage: 2, revisionPage: 2, state: 'differs' });
  });

  test('costs its worker and nothing else when time runs out', async () => {
    const slow: SmallPage = { raw: '0 0 0 rg 10 10 200 200 re f '.repeat(1_500_000) };
    const revision = await writeBook(join(folder, 'slow.pdf'), PAGES.with(1, slow));
    const report = await check(revision, { limits: { ...DEFAULT_LIMITS, pageMs: 5000 } });
    expect(kinds(report)).toEqual(['page-unreadable 2 2']);
  });
});

test('a file that is no PDF is refused with its name and the reason', async () => {
  const path = join(folder, 'letter.pdf');
  await (await import('node:fs/promises')).writeFile(path, 'Dear printer, please find the final attached.');
  await expect(check(path)).rejects.toMatchObject({ kind: 'unreadable', details: { file: 'letter.pdf' } });
});

test('workers that are lent to a check go on afterwards', async () => {
  const workers = startPageWorkers(1, DEFAULT_LIMITS);
  const revision = await writeBook(join(folder, 'lent.pdf'), PAGES);
  const first = await check(revision, { workers });
  const second = await check(revision, { workers });
  await workers.close();
  expect([first.verdict, second.verdict]).toEqual(['match', 'match']);
});
