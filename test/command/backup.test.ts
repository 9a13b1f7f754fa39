import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openArchive } from '../../src/archive/index.ts';
import { runCommand } from '../../src/command/run-command.ts';
import { pieces, sha256Of } from '../archive/blobs/streams.ts';
import { scratchFolder } from '../archive/scratch.ts';
import { fakeDesk, fakeRunning } from './fake-desk.ts';

const folder = scratchFolder();

async function run(line: string): Promise<readonly [exit: number, out: string, err: string]> {
  const { desk, out, err } = fakeDesk({ folder });
  return [await runCommand(line.split(' '), fakeRunning(desk)), out(), err()];
}

it('backup says what it copied, what was there before, and what it could not copy', async () => {
  const archive = await openArchive(join(folder, 'archive'), 1);
  for (const text of ['the dummy', 'the revision']) {
    await archive.catalogue.blobs.add({ ...(await archive.blobs.put(pieces(text))), at: 2 });
  }
  archive.close();
  const ending = '1 entry of the log: the copy is';
  expect(await run('backup archive copy')).toEqual([
    0,
    `2 blobs, 21 bytes copied, 0 there before, ${ending} whole\n`,
    '',
  ]);
  expect(await run('backup archive copy')).toEqual([
    0,
    `0 blobs, 0 bytes copied, 2 there before, ${ending} whole\n`,
    '',
  ]);
  expect((await run('scrub copy'))[0]).toBe(0);
  const lost = sha256Of('the dummy');
  rmSync(join(folder, 'archive', 'blobs', lost.slice(0, 2), lost));
  expect(await run('backup archive another')).toEqual([
    1,
    `not copied: ${lost} (it is missing)\n1 blob, 12 bytes copied, 0 there before, ${ending} not whole\n`,
    '',
  ]);
});

it.each([
  ['backup', 'backup takes two folders, the archive and its copy; 0 were given'],
  ['backup a', 'backup takes two folders, the archive and its copy; 1 were given'],
  ['backup a b c', 'backup takes two folders, the archive and its copy; 3 were given'],
  ['backup a b --pages 3', 'backup has no --pages'],
])('%s: %s', async (line, problem) => {
  expect(await run(line)).toEqual([2, '', `witnessleaf: ${problem} (--help shows how)\n`]);
});
