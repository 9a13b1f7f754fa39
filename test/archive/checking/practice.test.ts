import { readdir } from 'node:fs/promises';
import { setTimeout as after } from 'node:timers/promises';
import { expect, onTestFinished, test } from 'vitest';
import { checkOnceMore } from '../../../src/archive/checking/check-once-more.ts';
import type { Coming } from '../../../src/archive/arriving/arrivals.ts';
import { archivePaths, openPractice } from '../../../src/archive/index.ts';
import type { CheckingOrder } from '../../../src/archive/index.ts';
import { openKeptFacts } from '../../../src/archive/kept-facts.ts';
import { Refusal } from '../../../src/model/index.ts';
import { RASTER_RENDERER } from '../../../src/reading/pool/index.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = ['harbour', 'shingle', 'lantern', 'mountain', 'kitchen', 'orchard', 'quarry', 'railway'].map((title) => ({
  lines: [`What was seen of the ${title} in winter`, 'and told in the evening.'],
}));
const REVISION = PAGES.map((page) => ({ ...page, raw: 'q Q' }));
/** A file that has just begun to come in, over a slow line. */
const LINE: Coming = { bytes: 0, bytesASecond: 1000 };
const factsOf = async (folder: string): Promise<string[]> => (await readdir(archivePaths(folder).facts)).sort();

interface Desk extends Awaited<ReturnType<typeof openFileDesk>> {
  /** What workers were asked to do. */
  readonly asked: readonly string[];
  /** Has them practise until they come to so many jobs, and no longer than it would take to begin one too many. */
  readonly see: (most: number) => Promise<void>;
}

type Asked =
  | { readonly do: 'describe'; readonly first: number; readonly last: number }
  | { readonly do: string; readonly dummy: { filePage: number }; readonly revision: { filePage: number } };

const said = (job: Asked): string =>
  'first' in job ? `${job.do} ${job.first} to ${job.last}` : `${job.do} ${job.dummy.filePage} ${job.revision.filePage}`;

interface State {
  readonly slowest: () => Coming | null;
  readonly fewestDone?: number;
  readonly jobs?: number;
}

/** A part with what was sent of it, and workers that note which pages they hold against each other for practice. */
async function deskWith(
  { slowest, fewestDone = 0, jobs = 0 }: State,
  ...sent: readonly ('dummy' | 'revision')[]
): Promise<Desk> {
  const desk = await openFileDesk();
  const { archive, order, part } = desk;
  for (const kind of sent) {
    await desk.sendPages(kind === 'dummy' ? PAGES : REVISION, { kind });
    await desk.workOff();
  }
  const asked: string[] = [];
  const pool: CheckingOrder['pool'] = {
    ...order.pool,
    size: 2,
    getReady: () => Promise.resolve(),
    standing: () => ({ jobs, fewestDone }),
    run: (job, options) => {
      asked.push(said(job as Asked));
      return order.pool.run(job, options);
    },
  };
  const arrivals = { ...archive.arrivals, slowest };
  const practice = openPractice({ ...archive, arrivals }, { ...order, pool }, (error) => expect.fail(String(error)));
  onTestFinished(() => practice.close());
  const see = async (most: number): Promise<void> => {
    practice.see(part.id);
    practice.see(part.id);
    if (most > 0) await expect.poll(() => asked.length, { timeout: 20_000 }).toBe(most);
    await after(300);
    await practice.close();
  };
  return { ...desk, asked, see };
}

test('workers practise on the dummy and the file before while the next one comes in, all over the book', async () => {
  const { asked, see } = await deskWith({ slowest: () => LINE }, 'dummy', 'revision');
  await see(10);
  expect(asked).toEqual([
    'describe 1 to 4',
    'describe 5 to 8',
    ...PAGES.map((_, at) => `draw-and-compare ${at + 1} ${at + 1}`),
  ]);
});

test('the service itself practises on what it knows of them: it asks no worker for anything and keeps nothing of it', async () => {
  const { archive, order, part, asked, see, folder } = await deskWith({ slowest: () => LINE }, 'dummy', 'revision');
  const facts = await factsOf(folder);
  const kept = await openKeptFacts(order.factsFolder, RASTER_RENDERER);
  const [dummy, file] = await archive.catalogue.files.ofPart(part.id);
  const looked: string[] = [];
  const looking: typeof kept = {
    ...kept,
    read: async (kind, terms) => {
      const found = await kept.read<never>(kind, terms);
      looked.push(`${kind} ${found === null ? 'unknown' : 'known'}`);
      return found;
    },
  };
  await checkOnceMore(order, looking, [dummy!, file!]);
  // each page of both is known, and so is each comparison
  const times = (what: string): number => looked.filter((one) => one === what).length;
  expect([times('described known'), times('drawn known'), times('compared known')]).toEqual([2, 16, 8]);
  expect(asked).toEqual([]);
  await see(10);
  expect(await factsOf(folder)).toEqual(facts);
});

test('a check for practice of files of which nothing is known ends at once', async () => {
  const { archive, order, part } = await deskWith({ slowest: () => LINE }, 'dummy', 'revision');
  const [dummy, file] = await archive.catalogue.files.ofPart(part.id);
  const nothing = await openKeptFacts(null, RASTER_RENDERER);
  await expect(checkOnceMore(order, nothing, [dummy!, file!])).rejects.toThrow(Refusal);
});

test('they stop when it has come', async () => {
  let looks = 0;
  const { asked, see } = await deskWith({ slowest: () => ((looks += 1) <= 3 ? LINE : null) }, 'dummy', 'revision');
  await see(4);
  expect(asked).toHaveLength(4);
});

test.each<[string, State]>([
  ['nothing comes in that is worth it', { slowest: () => null }],
  ['it comes so fast that it is there at once', { slowest: () => ({ bytes: 0, bytesASecond: 500e6 }) }],
  ['all of it will be there at once', { slowest: () => ({ bytes: 1e9, bytesASecond: 1000 }) }],
  ['workers are in practice', { slowest: () => LINE, fewestDone: 60 }],
  ['there is other work', { slowest: () => LINE, jobs: 1 }],
])('they do not begin where %s', async (_why, state) => {
  const { asked, see } = await deskWith(state, 'dummy', 'revision');
  await see(0);
  expect(asked).toEqual([]);
});

test('a part without a file before holds up nobody', async () => {
  const { asked, see } = await deskWith({ slowest: () => LINE }, 'dummy');
  await see(0);
  expect(asked).toEqual([]);
});
