import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startPageWorkers } from '../../src/archive/index.ts';
import type { CheckRequest } from '../../src/archive/index.ts';
import { DEFAULT_LIMITS } from '../../src/model/index.ts';
import type { Finding, Report } from '../../src/model/index.ts';
import { checkOf } from './check-of.ts';
import { scratchFolder, writeBook } from './small-book.ts';
import type { SmallPage } from './small-book.ts';

const TITLES = [
  'harbour',
  'shingle',
  'lantern',
  'mountain',
  'kitchen',
  'orchard',
  'railway',
  'chapel',
  'meadow',
  'quarry',
];
const PAGES: readonly SmallPage[] = TITLES.map((title, index) => ({
  lines: [`What was seen of the ${title} in winter,`, `and told on evening number ${index + 3}.`],
}));
/** Written otherwise and showing the same, so that each page has to be drawn and compared. */
const REWRITTEN: readonly SmallPage[] = PAGES.map((page) => ({ ...page, raw: 'q Q' }));
const FAULTY: SmallPage = {
  ...REWRITTEN[0],
  lines: ['What was seen of the harbour in winter,', 'and told on evening number 8.'],
};

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

const shown = ({ kind, dummyPage, revisionPage }: Finding): string => `${kind} ${dummyPage} ${revisionPage}`;

/** A check, with everything that was told before its report, in order. */
async function checkTold(pages: readonly SmallPage[], more: Partial<CheckRequest> = {}) {
  const told: string[] = [];
  const revision = await writeBook(join(folder, 'revision.pdf'), pages);
  const report = await checkOf(dummy, revision, {
    workers,
    onFindings: (findings) => told.push(...findings.map(shown)),
    onProgress: ({ stage, done, total }) => told.push(`${stage} ${done} of ${total}`),
    ...more,
  });
  return { told, report };
}

const findingsOf = ({ findings }: Report): string[] => findings.map(shown);

test('a fault on the first page is told before the last page is drawn, and only once', async () => {
  const { told, report } = await checkTold(REWRITTEN.with(0, FAULTY));
  expect(findingsOf(report)).toEqual(['text-changed 1 1']);
  const found = told.filter((one) => one.startsWith('text-changed'));
  expect(found).toEqual(['text-changed 1 1']);
  expect(told.indexOf('text-changed 1 1')).toBeLessThan(told.indexOf('drawing 20 of 20'));
});

test('a page that was carried to the front is told as one move, and not as faults of the pages in its way', async () => {
  const { told, report } = await checkTold([REWRITTEN[8]!, ...REWRITTEN.toSpliced(8, 1)]);
  expect(findingsOf(report)).toEqual(['page-moved 9 1']);
  expect(told.filter((one) => !/^(reading|drawing|comparing)/.test(one))).toEqual(['page-moved 9 1']);
});

test('workers that are warm see the file that is there now, not one that lay there before', async () => {
  const first = await checkTold(REWRITTEN.with(0, FAULTY));
  const second = await checkTold(REWRITTEN);
  const third = await checkTold(
    REWRITTEN.with(9, {
      ...REWRITTEN[9],
      lines: ['What was seen of the quarry in summer,', 'and told on evening number 12.'],
    }),
  );
  expect([first, second, third].map(({ report }) => findingsOf(report))).toEqual([
    ['text-changed 1 1'],
    [],
    ['text-changed 10 10'],
  ]);
});

test('pages at the front that were drawn and compared before are not compared once more', async () => {
  const keptFolder = join(folder, 'kept');
  const done: string[] = [];
  const noting: typeof workers = {
    ...workers,
    run: (job, options) => {
      const { do: what, revision } = job as { do: string; revision?: { facts?: { pageNumber: number } } };
      if (what === 'compare') done.push(`${what} ${revision?.facts?.pageNumber}`);
      return workers.run(job, options);
    },
  };
  await checkTold(REWRITTEN, { keptFolder, workers: noting });
  expect(done.filter((one) => one === 'compare 1')).toHaveLength(2);
  done.length = 0;
  const lines = ['What was seen of the meadow in summer,', 'and told on evening number 11.'];
  const { told } = await checkTold(REWRITTEN.with(8, { ...REWRITTEN[8], lines }), { keptFolder, workers: noting });
  expect(told.filter((one) => one.startsWith('text-changed'))).toEqual(['text-changed 9 9']);
  expect(done).toEqual(['compare 9']);
});
