import { readdir, writeFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { keepScrub, keptScrub, type KeptScrub } from '../../../src/archive/index.ts';
import { archivePaths } from '../../../src/archive/archive-paths.ts';
import { scratchFolder } from '../scratch.ts';

const WHOLE: KeptScrub = {
  begunAtMs: 1,
  endedAtMs: 2,
  found: { isSound: true, blobs: 3, bytes: 4, entries: 5, faults: 0 },
  cause: null,
};
const BROKEN: KeptScrub = { begunAtMs: 6, endedAtMs: 7, found: null, cause: 'it was ended' };

it('the latest reading of an archive is kept in place of the one before, and nothing else stays', async () => {
  const folder = scratchFolder();
  expect(await keptScrub(folder)).toBeNull();
  for (const scrub of [WHOLE, BROKEN, WHOLE]) {
    await keepScrub(folder, scrub);
    expect(await keptScrub(folder)).toEqual(scrub);
  }
  expect(await readdir(folder)).toEqual(['scrub.json']);
});

it('a file that says something else is taken for none', async () => {
  const folder = scratchFolder();
  const { found } = WHOLE;
  for (const text of [
    '',
    '{',
    'null',
    '[]',
    ...[
      { ...WHOLE, begunAtMs: 'soon' },
      { ...WHOLE, endedAtMs: null },
      { ...WHOLE, found: { ...found, blobs: 1.5 } },
      { ...WHOLE, found: { ...found, isSound: 'yes' } },
      { ...BROKEN, cause: 3 },
    ].map((one) => JSON.stringify(one)),
  ]) {
    await writeFile(archivePaths(folder).scrub, text);
    expect([text, await keptScrub(folder)]).toEqual([text, null]);
  }
});
