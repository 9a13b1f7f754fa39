import { setTimeout as after } from 'node:timers/promises';
import { expect, onTestFinished, test } from 'vitest';
import { openPractice } from '../../../src/archive/index.ts';
import type { CheckingOrder } from '../../../src/archive/index.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = ['harbour', 'shingle', 'lantern', 'mountain', 'kitchen', 'orchard', 'quarry', 'railway'].map((title) => ({
  lines: [`What was seen of the ${title} in winter`, 'and told in the evening.'],
}));
const REVISION = PAGES.map((page) => ({ ...page, raw: 'q Q' }));
const LINE = 10e6;

interface Desk extends Awaited<ReturnType<typeof openFileDesk>> {
  readonly pairs: readonly string[];
  /** Has them practise until they come to so many pairs, and no longer than it would take to begin one too many. */
  readonly see: (most: number) => Promise<void>;
}

interface State {
  readonly slowest: () => number | null;
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
  const pairs: string[] = [];
  const pool: CheckingOrder['pool'] = {
    ...order.pool,
    size: 2,
    getReady: () => Promise.resolve(),
    standing: () => ({ jobs, fewestDone }),
    run: (job, options) => {
      const { do: what, dummy, revision } = job as Record<'dummy' | 'revision', { filePage: number }> & { do: string };
      pairs.push(`${what} ${dummy.filePage} ${revision.filePage}`);
      return order.pool.run(job, options);
    },
  };
  const arrivals = { ...archive.arrivals, slowest };
  const practice = openPractice({ ...archive, arrivals }, { ...order, pool }, (error) => expect.fail(String(error)));
  onTestFinished(() => practice.close());
  const see = async (most: number): Promise<void> => {
    practice.see(part.id);
    practice.see(part.id);
    if (most > 0) await expect.poll(() => pairs.length, { timeout: 20_000 }).toBe(most);
    await after(300);
    await practice.close();
  };
  return { ...desk, pairs, see };
}

test('workers practise on the dummy and the file before while the next one comes in, all over the book', async () => {
  const { pairs, see } = await deskWith({ slowest: () => LINE }, 'dummy', 'revision');
  await see(8);
  expect(pairs).toEqual(PAGES.map((_, at) => `draw-and-compare ${at + 1} ${at + 1}`));
});

test('they stop when it has come', async () => {
  let asked = 0;
  const { pairs, see } = await deskWith({ slowest: () => ((asked += 1) <= 3 ? LINE : null) }, 'dummy', 'revision');
  await see(4);
  expect(pairs).toHaveLength(4);
});

test.each<[string, State]>([
  ['nothing comes in that is worth it', { slowest: () => null }],
  ['it comes so fast that it is there at once', { slowest: () => 500e6 }],
  ['workers are in practice', { slowest: () => LINE, fewestDone: 60 }],
  ['there is other work', { slowest: () => LINE, jobs: 1 }],
])('they do not begin where %s', async (_why, state) => {
  const { pairs, see } = await deskWith(state, 'dummy', 'revision');
  await see(0);
  expect(pairs).toEqual([]);
});

test('a part without a file before holds up nobody', async () => {
  const { pairs, see } = await deskWith({ slowest: () => LINE }, 'dummy');
  await see(0);
  expect(pairs).toEqual([]);
});
