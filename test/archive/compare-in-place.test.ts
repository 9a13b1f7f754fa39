import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { compareInPlace } from '../../src/archive/compare-in-place.ts';
import { startPageWorkers } from '../../src/archive/index.ts';
import type { CheckRequest } from '../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Finding, Report } from '../../src/model/index.ts';
import { checkOf } from './check-of.ts';
import { scratchFolder, writeBook } from './small-book.ts';
import type { SmallPage } from './small-book.ts';

const WORDS = ['harbour', 'shingle', 'lantern', 'mountain', 'kitchen', 'orchard', 'railway', 'chapel'];
const NUMBERS = ['one', 'two', 'three', 'four', 'five'];
/** Longer by eight pages than what a book's conversion is learned from. */
const PAGES: readonly SmallPage[] = NUMBERS.flatMap((number, row) =>
  WORDS.map((word, column) => ({
    lines: [
      `Of the ${word} seen in winter ${number}`,
      `and ${'told '.repeat(row + 1)}again on evening ${row * 8 + column}.`,
    ],
  })),
);
/** Written otherwise and showing the same, so that each page has to be drawn and compared. */
const REWRITTEN: readonly SmallPage[] = PAGES.map((page) => ({ ...page, raw: 'q Q' }));
/** The conversion is learned from the pages whose multiples of the golden ratio come first: 37 is not among them, 13 is. */
const [LEARNED_FROM, LEFT] = [13, 37];
const LEARNED = 32;
/** With these, of the four that are looked at first, the one that is not among them. */
const APART = LEARNED + 1;

let folder = '';
let dummy = '';
const workers = startPageWorkers(1, DEFAULT_LIMITS);
beforeAll(async () => {
  folder = await scratchFolder();
  dummy = await writeBook(join(folder, 'dummy.pdf'), PAGES);
});
afterAll(async () => {
  await workers.close();
  await rm(folder, { recursive: true, force: true });
});

interface Job {
  readonly do: string;
}

/** A check, and how many jobs of each kind its workers were given; `fails` says which of them go wrong. */
async function checkCounted(
  pages: readonly SmallPage[],
  more: Partial<CheckRequest> = {},
  fails: (job: Job) => boolean = () => false,
): Promise<{ readonly report: Report; readonly jobs: Readonly<Record<string, number>> }> {
  const revision = await writeBook(join(folder, 'revision.pdf'), pages);
  const jobs: Record<string, number> = {};
  const counting: typeof workers = {
    size: workers.size,
    run(job, options) {
      const { do: kind } = job as Job;
      jobs[kind] = (jobs[kind] ?? 0) + 1;
      return fails(job as Job) ? Promise.reject(new Error('lost')) : workers.run(job, options);
    },
    getReady: (job, options) => workers.getReady(job, options),
    standing: () => workers.standing(),
    close: () => Promise.resolve(),
  };
  return { report: await checkOf(dummy, revision, { workers: counting, ...more }), jobs };
}

const findingsOf = ({ findings }: Report): string[] =>
  findings.map(({ kind, dummyPage, revisionPage }: Finding) => `${kind} ${dummyPage} ${revisionPage}`);
const withWord = (pages: readonly SmallPage[], page: number): readonly SmallPage[] => {
  const [first = '', second = ''] = pages[page - 1]!.lines!;
  return pages.with(page - 1, { ...pages[page - 1]!, lines: [first.replace('winter', 'summer'), second] });
};
const FAULTY = withWord(withWord(REWRITTEN, LEARNED_FROM), LEFT);

test('a long book is compared page by page as it is drawn, but for the pages that its conversion is learned from', async () => {
  const { report, jobs } = await checkCounted(FAULTY);
  expect(findingsOf(report)).toEqual([`text-changed ${LEARNED_FROM} ${LEARNED_FROM}`, `text-changed ${LEFT} ${LEFT}`]);
  expect(jobs).toMatchObject({ draw: 2 * APART, 'draw-and-compare': PAGES.length - APART, compare: APART });
});

test('a short book is drawn whole before its pages are compared, since its conversion is learned from all of them', async () => {
  const short = await writeBook(join(folder, 'short.pdf'), PAGES.slice(0, LEARNED));
  const revision = await writeBook(join(folder, 'short-revision.pdf'), FAULTY.slice(0, LEARNED));
  expect(findingsOf(await checkOf(short, revision, { workers }))).toEqual([
    `text-changed ${LEARNED_FROM} ${LEARNED_FROM}`,
  ]);
});

test('the report is the same where drawing and comparing in one go fails and each page is drawn alone', async () => {
  const { report } = await checkCounted(FAULTY);
  const { report: apart, jobs } = await checkCounted(FAULTY, {}, (job) => job.do === 'draw-and-compare');
  expect(apart).toEqual(report);
  expect(jobs).toMatchObject({ draw: 2 * PAGES.length, compare: PAGES.length });
});

test('a page that cannot be drawn costs only itself', async () => {
  const { report } = await checkCounted(REWRITTEN, {}, (job) => {
    const { pageNumber, revision } = job as { readonly pageNumber?: number; readonly revision?: { filePage: number } };
    return (job.do === 'draw-and-compare' && revision?.filePage === LEFT) || (job.do === 'draw' && pageNumber === LEFT);
  });
  expect(findingsOf(report)).toEqual([`page-unreadable ${LEFT} ${LEFT}`, `page-unreadable ${LEFT} ${LEFT}`]);
});

test('pages that do not stand in their places are not compared with those that do', async () => {
  const { report, jobs } = await checkCounted([REWRITTEN[39]!, ...REWRITTEN.slice(0, 39)]);
  expect(findingsOf(report)).toEqual(['page-moved 40 1']);
  expect(jobs['draw-and-compare']).toBeUndefined();
});

test('where pages follow that have moved on by one, those before them are still compared as they are drawn, and only those', async () => {
  const { report, jobs } = await checkCounted([
    ...REWRITTEN.slice(0, 34),
    { lines: ['A new page.'] },
    ...REWRITTEN.slice(34),
  ]);
  expect(findingsOf(report)).toEqual(['page-added null 35']);
  const { report: none, jobs: all } = await checkCounted(REWRITTEN);
  expect(findingsOf(none)).toEqual([]);
  expect(jobs['draw-and-compare']).toBeGreaterThan(0);
  expect(jobs['draw-and-compare']).toBeLessThan(all['draw-and-compare']!);
});

test('two pages that changed places are told as that, whatever was compared in place before it was known', async () => {
  const { report, jobs } = await checkCounted([...FAULTY.slice(0, 38), REWRITTEN[39]!, REWRITTEN[38]!]);
  expect(findingsOf(report)).toEqual([
    `text-changed ${LEARNED_FROM} ${LEARNED_FROM}`,
    `text-changed ${LEFT} ${LEFT}`,
    'page-moved 40 39',
  ]);
  expect(jobs['draw-and-compare']).toBeGreaterThan(0);
});

test('what was seen in place is kept: the next check of the same pages draws and compares none', async () => {
  const keptFolder = join(folder, 'kept');
  const first = await checkCounted(FAULTY, { keptFolder });
  const second = await checkCounted(FAULTY, { keptFolder });
  expect(second.report).toEqual(first.report);
  expect([second.jobs.draw, second.jobs['draw-and-compare'], second.jobs.compare]).toEqual([
    undefined,
    undefined,
    undefined,
  ]);
});

test('pages of which something has to be drawn are begun before those of which all is known is looked up', async () => {
  const begun: number[] = [];
  const known = new Set([1, 2, 4, 5]);
  await compareInPlace({
    inPlace: [1, 2, 3, 4, 5, 6],
    pages: { dummy: [], revision: [] },
    tolerances: DEFAULT_TOLERANCES,
    drawApart: async (page) => {
      begun.push(page);
      // known pages come back at once, and still do not go before
      if (!known.has(page)) await new Promise((later) => setTimeout(later, 20));
    },
    drawAndCompare: () => Promise.resolve(null),
    onDrawn: () => undefined,
    isKnown: (page) => known.has(page),
  });
  expect(begun).toEqual([3, 6, 1, 2, 4, 5]);
});

test('where two pages of a long book changed that was checked before, workers draw and compare these two and no others', async () => {
  const keptFolder = join(folder, 'kept-revision');
  await checkCounted(REWRITTEN, { keptFolder });
  const { report, jobs } = await checkCounted(FAULTY, { keptFolder });
  const unkept = await checkCounted(FAULTY);
  expect(report).toEqual(unkept.report);
  expect((jobs.draw ?? 0) + (jobs['draw-and-compare'] ?? 0)).toBe(2);
  // page 13 is one that the conversion is learned from, and is drawn apart from its like
  expect(jobs).toMatchObject({ draw: 1, 'draw-and-compare': 1, compare: 1 });
});
