import { spawnSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { exportEvidencePack, verifyPack } from '../../../src/reporting/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { minute, playDispute, type Play } from './dispute.ts';
import { openStamper } from './stamper.ts';
import { bareTools, namesBelow, runScript, unpack, wholeOf } from './unpacked.ts';

async function packOf(play: Play, contents: 'files' | 'hashes'): Promise<Buffer> {
  const { archive, title, editor } = await playDispute(play);
  const authorities = play.authority?.trusted ?? [];
  const order = { titleId: title.id, scope: { kind: 'title' }, contents, authorities } as const;
  const pack = await exportEvidencePack(archive, editor.actor, order, minute(100));
  const zip = await wholeOf(pack.stream);
  archive.close();
  return zip;
}

/** The first and the last name of each kind: those that differ in their numbers only are of one. */
function ofEachKind(names: readonly string[]): readonly string[] {
  const kindOf = (name: string): string => name.replaceAll(/[0-9a-f]{16,}|\d+/g, '#');
  const [firsts, lasts] = [new Map<string, string>(), new Map<string, string>()];
  for (const name of names) {
    if (!firsts.has(kindOf(name))) firsts.set(kindOf(name), name);
    lasts.set(kindOf(name), name);
  }
  return names.filter((name) => firsts.get(kindOf(name)) === name || lasts.get(kindOf(name)) === name);
}

describe('an evidence pack with a byte changed', () => {
  let zip: Buffer;
  let folder: string;
  let names: readonly string[];
  const tools = bareTools();
  /** The stranger's own copy of the script, for when the one in the pack is not to be trusted. */
  const script = join(scratchFolder(), 'verify.sh');

  beforeAll(async () => {
    zip = await packOf({ until: 'signed' }, 'hashes');
    folder = unpack(zip).folder;
    names = namesBelow(folder);
    cpSync(join(folder, 'verify.sh'), script);
  }, 30_000);

  /** The folder with one member changed, for as long as `look` takes. */
  async function changed<T>(
    name: string,
    change: (path: string) => void,
    look: () => Promise<T> | T,
    within = folder,
  ): Promise<T> {
    const path = join(within, name);
    const before = readFileSync(path);
    change(path);
    try {
      return await look();
    } finally {
      rmSync(path, { force: true });
      writeFileSync(path, before);
    }
  }
  const flip =
    (share: number) =>
    (path: string): void => {
      const bytes = readFileSync(path);
      const at = Math.min(bytes.length - 1, Math.floor(bytes.length * share));
      bytes[at] = (bytes[at] ?? 0) ^ 1;
      writeFileSync(path, bytes);
    };
  /** Members that are named as not holding. */
  const namedBy = (lines: readonly string[]): readonly string[] => {
    const failing = lines.filter((line) => line.startsWith('DOES NOT HOLD'));
    return names.filter((name) => failing.some((line) => line.includes(name)));
  };
  const failing = async (within = folder): Promise<readonly string[]> =>
    (await verifyPack(within)).checks.flatMap(({ about, check }) => (check.outcome === 'fails' ? [about] : []));

  it('is told by verify.sh alone, whichever kind of member it is in, and the member is named', async () => {
    const unnoticed: string[] = [];
    for (const [index, name] of ofEachKind(names).entries()) {
      const share = ((index * 7) % 10) / 10;
      const run = await changed(name, flip(share), () => runScript(tools, folder, script, [folder]));
      if (run.status !== 1 || !namedBy(run.lines).includes(name)) unnoticed.push(`${name}: ${run.status}`);
    }
    expect(unnoticed).toEqual([]);
    expect(runScript(tools, folder, script, [folder]).status).toBe(0);
  }, 240_000);

  it('is told by the command, whichever member it is in, and the member is named', async () => {
    const unnoticed: string[] = [];
    for (const [index, name] of names.entries()) {
      const share = ((index * 3) % 10) / 10;
      const about = await changed(name, flip(share), () => failing());
      if (!about.some((one) => one.includes(name))) unnoticed.push(`${name}: ${about.join()}`);
    }
    expect(unnoticed).toEqual([]);
    expect(await failing()).toEqual([]);
  }, 240_000);

  it.each(['log/000008.entry', 'statements/000018.p7s', 'account.pdf', 'MEMBERS.seal.sig'])(
    'or without %s, is told by both',
    async (name) => {
      const look = async () => ({ script: runScript(tools, folder, script, [folder]), command: await failing() });
      const told = await changed(name, (path) => rmSync(path), look);
      expect(told.script.status).toBe(1);
      expect(namedBy(told.script.lines)).toContain(name);
      expect(told.command).toContain(name);
    },
  );

  it('or with a file too many, even a hidden one or a link, is told by both', async () => {
    mkdirSync(join(folder, 'files', '.more'), { recursive: true });
    writeFileSync(join(folder, 'files', '.more', 'note.txt'), '');
    expect(runScript(tools, folder, script, [folder]).lines).toContain(
      'DOES NOT HOLD  files/.more/note.txt: MEMBERS does not list it',
    );
    expect(new Set(await failing())).toEqual(new Set(['files/.more/note.txt']));
    rmSync(join(folder, 'files'), { recursive: true });
    symlinkSync('/dev/null', join(folder, 'link'));
    expect(runScript(tools, folder, script, [folder]).status).toBe(1);
    rmSync(join(folder, 'link'));
  });

  it('within the ZIP itself is told too: wherever it lies, something does not hold or it is no such ZIP any more', async () => {
    const file = join(scratchFolder(), 'pack.zip');
    const passed: number[] = [];
    for (let at = 11; at < zip.length; at += Math.floor(zip.length / 11)) {
      const bytes = Buffer.from(zip);
      bytes[at] = (bytes[at] ?? 0) ^ 4;
      writeFileSync(file, bytes);
      const answer = await verifyPack(file).catch((error: unknown) => error as Error);
      if (answer instanceof Error) continue;
      // What nobody reads in a ZIP, as the time of a member, may change.
      const sound = answer.checks.every(({ check }) => check.outcome === 'holds');
      if (sound && memberBytes(bytes).compare(memberBytes(zip)) !== 0) passed.push(at);
    }
    expect(passed).toEqual([]);
  }, 120_000);

  it('in a checksum of the ZIP, both times that it is there, is told too, though what is in it is whole', async () => {
    const file = join(scratchFolder(), 'pack.zip');
    const directory = zip.lastIndexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02]));
    const bytes = Buffer.from(zip);
    for (const at of [directory + 16, bytes.readUInt32LE(directory + 42) + 14]) bytes[at] = (bytes[at] ?? 0) ^ 4;
    writeFileSync(file, bytes);
    const { checks } = await verifyPack(file);
    expect(JSON.stringify(checks.filter(({ check }) => check.outcome === 'fails'))).toMatch(/checksum/);
  });

  /** What `unzip` takes out of a ZIP, all in a row; it also complains of much that changes nothing of that. */
  function memberBytes(bytes: Buffer): Buffer {
    const file = join(scratchFolder(), 'one.zip');
    writeFileSync(file, bytes);
    return spawnSync('unzip', ['-p', '-qq', file], { maxBuffer: 100_000_000 }).stdout;
  }

  it('is told of files, reports, pictures and time-stamps, too', async () => {
    const { authority, desk } = openStamper();
    const { folder: whole } = unpack(await packOf({ authority }, 'files'));
    desk.clear();
    const others = namesBelow(whole).filter((name) => /^(files|history|reports|time-stamps)\//.test(name));
    expect(others.map((name) => name.replaceAll(/[0-9a-z]{16,64}/g, '…'))).toEqual([
      'files/….pdf',
      'files/….pdf',
      ...['history/….webp', 'history/….webp', 'reports/…/difference-….webp', 'reports/…/dummy-….webp'],
      ...['reports/…/report.json', 'reports/…/revision-….webp'],
      'time-stamps/000023-1.pem',
      'time-stamps/000023-1.tst',
    ]);
    expect(runScript(tools, whole).status).toBe(0);
    for (const name of others) {
      const look = async () => ({ script: runScript(tools, whole), command: await failing(whole) });
      const told = await changed(name, flip(0.4), look, whole);
      expect(told.script.lines.filter((line) => line.startsWith(`DOES NOT HOLD  ${name}`))).not.toEqual([]);
      expect(told.command).toContain(name);
    }
  }, 60_000);

  it('two faults at once are both told', async () => {
    const told = await changed('account.txt', flip(0.5), () =>
      changed(
        'log/000009.tlog-proof',
        (path) => appendFileSync(path, 'x'),
        () => failing(),
      ),
    );
    expect(told).toEqual(expect.arrayContaining(['account.txt', 'log/000009.tlog-proof']));
  });
});
