import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openArchive } from '../../src/archive/index.ts';
import { runCommand } from '../../src/command/run-command.ts';
import { pieces, sha256Of } from '../archive/blobs/streams.ts';
import { fakeDesk, fakeRunning } from './fake-desk.ts';

const DUMMY = sha256Of('the dummy');
let folder: string;
const path = (): string => join(folder, 'archive', 'blobs', DUMMY.slice(0, 2), DUMMY);

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'witnessleaf-scrub-'));
  const archive = await openArchive(join(folder, 'archive'), 1);
  await archive.catalogue.blobs.add({ ...(await archive.blobs.put(pieces('the dummy'))), at: 2 });
  archive.close();
});
afterEach(() => rmSync(folder, { recursive: true }));

async function run(line: string): Promise<{ exit: number; out: string; err: string }> {
  const { desk, out, err } = fakeDesk({ folder });
  const exit = await runCommand(line.split(' '), fakeRunning(desk));
  return { exit, out: out(), err: err() };
}

describe('scrub', () => {
  it('says that an archive is whole, and ends with 0', async () => {
    expect(await run('scrub archive')).toEqual({
      exit: 0,
      out: '1 blob, 9 bytes read, 1 entry of the log: the archive is whole\n',
      err: '',
    });
  });

  it('names what is damaged, and ends with 1', async () => {
    chmodSync(path(), 0o644);
    writeFileSync(path(), 'the dumny');
    const reason = `its bytes have the SHA-256 ${sha256Of('the dumny')}`;
    const out = `damaged: ${DUMMY} (${reason})\n1 blob, 9 bytes read, 1 entry of the log: the archive is not whole\n`;
    expect(await run('scrub archive')).toEqual({ exit: 1, out, err: '' });
  });

  it('names what is missing and what does not belong there, and ends with 1', async () => {
    rmSync(path());
    writeFileSync(join(folder, 'archive', 'blobs', 'notes\u001b.txt'), '');
    const { exit, out } = await run('scrub archive');
    expect([exit, out.split('\n')[0], out.split('\n')[2]]).toEqual([
      1,
      `missing: ${DUMMY}`,
      '0 blobs, 0 bytes read, 1 entry of the log: the archive is not whole',
    ]);
    expect(out).not.toContain('\u001b');
  });

  it('ends with 2 where there is no archive', async () => {
    const err = `witnessleaf: ${join(folder, 'nothing')}: an archive: not found\n`;
    expect(await run('scrub nothing')).toEqual({ exit: 2, out: '', err });
  });

  it.each([
    ['scrub', 'scrub takes one folder; 0 were given'],
    ['scrub a b', 'scrub takes one folder; 2 were given'],
    ['scrub a --pages 3', 'scrub has no --pages'],
  ])('%s: %s', async (line, problem) => {
    expect(await run(line)).toEqual({ exit: 2, out: '', err: `witnessleaf: ${problem} (--help shows how)\n` });
  });
});
