import { expect, test } from 'vitest';
import type { PageDescription } from '../../src/model/index.ts';
import { DEFAULT_LIMITS } from '../../src/model/index.ts';
import { openKeptFacts } from '../../src/archive/kept-facts.ts';
import type { DrawnPart } from '../../src/archive/page-jobs.ts';
import { drawFacts } from '../../src/archive/read-file.ts';
import type { DescribedFile } from '../../src/archive/check-request.ts';
import type { ReadingTools } from '../../src/archive/read-file.ts';

const PAGE: PageDescription = {
  pageNumber: 1,
  trimmed: { width: 100, height: 120 },
  pictures: [],
  contentHash: 'c'.repeat(64),
} as unknown as PageDescription;
const FILE: DescribedFile = {
  identity: { sha256: 'f'.repeat(64), bytes: 1, pages: 1 },
  pages: [PAGE],
  sourceOf: () => ({ path: 'dummy.pdf', sha256: 'f'.repeat(64), bytes: 1, pageNumber: 1 }),
  surroundingsOf: () => 's',
};
const DRAWN = { words: [], signature: [], rasterHash: 'r', blank: false } as unknown as DrawnPart;

/** Workers that fail as often as is said, and how often they were asked. */
async function toolsThatFail(times: number): Promise<ReadingTools & { asked(): number }> {
  let asked = 0;
  const run = async () => {
    asked += 1;
    const mine = asked;
    await Promise.resolve();
    if (mine <= times) throw new Error('the folder for rasters is gone');
    return DRAWN;
  };
  const pool = {
    size: 2,
    run,
    getReady: () => Promise.resolve(),
    standing: () => ({ jobs: 0, fewestDone: 0 }),
    close: () => Promise.resolve(),
  };
  return {
    pool: pool as unknown as ReadingTools['pool'],
    kept: await openKeptFacts(null, 'nothing'),
    limits: DEFAULT_LIMITS,
    asked: () => asked,
  };
}

const draw = (tools: ReadingTools) => drawFacts(tools, FILE, PAGE, { ppi: 100, rasterPath: 'r', shelf: null });

test('a page that is wanted by several checks at once is drawn once', async () => {
  const tools = await toolsThatFail(0);
  expect(await Promise.all([draw(tools), draw(tools), draw(tools)])).toEqual([
    { ...PAGE, ...DRAWN },
    { ...PAGE, ...DRAWN },
    { ...PAGE, ...DRAWN },
  ]);
  expect(tools.asked()).toBe(1);
});

test('where it failed for the one that it was drawn for, the others do not take the page for unreadable', async () => {
  const tools = await toolsThatFail(1);
  const [first, ...others] = await Promise.all([draw(tools), draw(tools), draw(tools)]);
  expect(first).toMatchObject({ unreadable: 'the folder for rasters is gone' });
  expect(others).toEqual([
    { ...PAGE, ...DRAWN },
    { ...PAGE, ...DRAWN },
  ]);
  expect(tools.asked()).toBe(2);
});
