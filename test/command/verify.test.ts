import { cpSync, createWriteStream, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { runCommand } from '../../src/command/run-command.ts';
import { makeEvidencePack } from '../../src/reporting/index.ts';
import { scratchFolder } from '../archive/scratch.ts';
import { minute, playDispute } from '../reporting/evidence-pack/dispute.ts';
import { unpack } from '../reporting/evidence-pack/unpacked.ts';
import { fakeDesk, fakeRunning } from './fake-desk.ts';

let folder: string;
let note: string;

beforeAll(async () => {
  folder = scratchFolder();
  const { archive, editor, title } = await playDispute({ until: 'signed' });
  const order = { titleId: title.id, scope: { kind: 'title' }, contents: 'hashes' } as const;
  const { stream } = await makeEvidencePack(archive, editor.actor, order, minute(100));
  await pipeline(stream, createWriteStream(join(folder, 'pack.zip')));
  note = (await archive.catalogue.log.latestCheckpoint())?.note ?? '';
  archive.close();
}, 30_000);

async function run(line: string): Promise<{ exit: number; out: readonly string[]; err: string }> {
  const { desk, out, err } = fakeDesk({ folder });
  const exit = await runCommand(line.split(' '), fakeRunning(desk));
  return { exit, out: out().split('\n'), err: err() };
}

describe('verify', () => {
  it('says of each member that it holds, names the keys that are left to compare, and ends with 0', async () => {
    const { exit, out, err } = await run('verify pack.zip');
    expect([exit, err]).toEqual([0, '']);
    expect(out.filter((line) => !/^(holds|to compare) {5}/.test(line))).toEqual([
      expect.stringMatching(/^all \d+ checks hold; what rests on the keys rests on your comparing them$/),
      '',
    ]);
    expect(out.filter((line) => line.startsWith('to compare'))).toHaveLength(3);
    expect(out).toContain('holds          statements/000018.json (17 checks)');
  });

  it('says which member does not hold, and ends with 1', async () => {
    const { folder: unpacked } = unpack(readFileSync(join(folder, 'pack.zip')));
    cpSync(unpacked, join(folder, 'spoilt'), { recursive: true });
    writeFileSync(join(folder, 'spoilt', 'README.txt'), 'Believe me.\n');
    const { exit, out } = await run('verify spoilt');
    expect(exit).toBe(1);
    expect(out.filter((line) => line.startsWith('DOES NOT HOLD')).map((line) => line.slice(0, 32))).toEqual([
      'DOES NOT HOLD  README.txt: bytes',
      'DOES NOT HOLD  README.txt: accou',
    ]);
  });

  it('takes a head that was seen before, and ends with 2 where it cannot be compared', async () => {
    writeFileSync(join(folder, 'head.note'), note);
    expect((await run('verify pack.zip --seen head.note')).exit).toBe(0);
    writeFileSync(join(folder, 'head.note'), 'no head\n');
    expect((await run('verify pack.zip --seen head.note')).exit).toBe(1);
    expect(await run('verify pack.zip --seen nothing')).toEqual({
      ...{ exit: 2, out: [''], err: `witnessleaf: ${join(folder, 'nothing')}: not found\n` },
    });
  });

  it('ends with 2 where there is no pack', async () => {
    expect(await run('verify nothing.zip')).toEqual({
      ...{ exit: 2, out: [''], err: `witnessleaf: ${join(folder, 'nothing.zip')}: not found\n` },
    });
  });

  it.each([
    ['verify', 'verify takes one evidence pack; 0 were given'],
    ['verify a b', 'verify takes one evidence pack; 2 were given'],
    ['verify a --pages 3', 'verify has no --pages'],
    ['scrub a --seen h', 'only verify has --seen'],
  ])('%s: %s', async (line, problem) => {
    expect(await run(line)).toEqual({ exit: 2, out: [''], err: `witnessleaf: ${problem} (--help shows how)\n` });
  });
});
