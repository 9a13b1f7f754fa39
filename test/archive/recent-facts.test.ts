import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { serialize } from 'node:v8';
import { expect, onTestFinished, test } from 'vitest';
import { openKeptFacts, RecentFacts } from '../../src/archive/index.ts';
import type { KeptFacts } from '../../src/archive/kept-facts.ts';

interface Kept {
  readonly folder: string;
  /** Opens the folder as each check does. */
  readonly open: () => Promise<KeptFacts>;
}

async function keptWith(recent: RecentFacts | null): Promise<Kept> {
  const folder = await mkdtemp(join(tmpdir(), 'witnessleaf-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return { folder, open: () => openKeptFacts(folder, 'renderer', recent) };
}

const facts = (page: number): object => ({ page, cells: new Uint8Array(1000).fill(page) });

test('facts that one check read are read once for the next; without a memory of them, once for each', async () => {
  for (const recent of [new RecentFacts(), null]) {
    const { open } = await keptWith(recent);
    await (await open()).write('drawn', ['a'], facts(1));
    const first = await (await open()).read('drawn', ['a']);
    const second = await (await open()).read('drawn', ['a']);
    expect(first).toEqual(facts(1));
    expect(second).toEqual(facts(1));
    expect(second === first).toBe(recent !== null);
  }
});

test('what is written again is read again', async () => {
  const { open } = await keptWith(new RecentFacts());
  const kept = await open();
  await kept.write('conversions', ['a'], [1]);
  expect(await kept.read('conversions', ['a'])).toEqual([1]);
  await kept.write('conversions', ['a'], [1, 2]);
  expect(await kept.read('conversions', ['a'])).toEqual([1, 2]);
});

test('what was removed from the folder is not known any more', async () => {
  const { folder, open } = await keptWith(new RecentFacts());
  const kept = await open();
  await kept.write('drawn', ['a'], facts(1));
  await kept.read('drawn', ['a']);
  for (const name of await readdir(folder)) await rm(join(folder, name));
  expect(await kept.read('drawn', ['a'])).toBe(null);
  expect(kept.has('drawn', ['a'])).toBe(false);
});

test('a file that cannot be read is nothing known, and is not remembered', async () => {
  const { folder, open } = await keptWith(new RecentFacts());
  const kept = await open();
  await kept.write('drawn', ['a'], facts(1));
  const [name = ''] = await readdir(folder);
  await writeFile(join(folder, name), 'torn');
  expect(await kept.read('drawn', ['a'])).toBe(null);
  await writeFile(join(folder, name), serialize(facts(2)));
  expect(await kept.read('drawn', ['a'])).toEqual(facts(2));
});

test('facts that nobody asked for longest make room for others', () => {
  const recent = new RecentFacts(100);
  recent.add('one', 1, 40);
  recent.add('two', 2, 40);
  expect(recent.get('one')).toBe(1);
  recent.add('three', 3, 40);
  expect(['one', 'two', 'three'].map((path) => recent.get(path))).toEqual([1, undefined, 3]);
  recent.add('three', 4, 60);
  expect(['one', 'three'].map((path) => recent.get(path))).toEqual([1, 4]);
  // larger than there is room for
  recent.add('four', 5, 101);
  expect(['one', 'three', 'four'].map((path) => recent.get(path))).toEqual([undefined, undefined, undefined]);
});
