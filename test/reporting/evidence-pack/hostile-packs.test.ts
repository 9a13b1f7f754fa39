import { symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ZipFile } from 'yazl';
import { PACK_LIMITS } from '../../../src/evidence/index.ts';
import { zipMembers } from '../../../src/reporting/evidence-pack/zip-members.ts';
import { verifyPack } from '../../../src/reporting/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { refusalOfPromise } from '../../sealing/people.ts';
import { wholeOf } from './unpacked.ts';
import type { Readable } from 'node:stream';

type Member = readonly [name: string, content: Uint8Array | string];

/** A ZIP of these members; of a name that the writer would refuse a plain one is written and changed afterwards. */
async function zipOf(members: readonly Member[], compress = false, mode = 0o100644): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, content] of members) zip.addBuffer(Buffer.from(content), name, { compress, mode });
  zip.end();
  return wholeOf(zip.outputStream as Readable);
}

function renamed(zip: Buffer, from: string, to: string): Buffer {
  return Buffer.from(zip.toString('latin1').replaceAll(from, to), 'latin1');
}

const judged = (zip: Buffer, limits = PACK_LIMITS): Promise<unknown> => {
  const path = join(scratchFolder(), 'pack.zip');
  writeFileSync(path, zip);
  return refusalOfPromise(verifyPack(path, {}, limits));
};
const PLAIN: Member = ['MEMBERS', ''];

describe('a pack from somebody who means harm', () => {
  it.each([
    ['leads out of the folder', '../../evil.txt'],
    ['leads out on its way', 'a/../../ev.txt'],
    ['begins at the root', '/etc/passwd.tx'],
    ['is a Windows path', 'c:\\win\\evil.t'],
    ['steers a terminal', '\u001b[2J\u001b[Hevil.t'],
  ])('is refused where a name %s', async (_, name) => {
    const plain = 'x'.repeat(name.length);
    const { kind } = (await judged(renamed(await zipOf([PLAIN, [plain, 'x']]), plain, name))) as { kind: string };
    expect(['malformed', 'unreadable']).toContain(kind);
  });

  it('is refused where a name is there twice, or twice but for its capitals', async () => {
    const twice = renamed(await zipOf([PLAIN, ['aaa', '1'], ['bbb', '2']]), 'bbb', 'aaa');
    expect(await judged(twice)).toMatchObject({ kind: 'malformed', found: 'aaa twice' });
    expect(await judged(await zipOf([PLAIN, ['aaa', '1'], ['AAA', '2']]))).toMatchObject({ kind: 'malformed' });
  });

  it('is refused where the directory calls a member otherwise than its own head does', async () => {
    const zip = await zipOf([PLAIN, ['first', '1']]);
    const at = zip.lastIndexOf('first');
    zip.write('other', at, 'latin1');
    expect(await judged(zip)).toMatchObject({ kind: 'malformed', found: 'other with another name' });
  });

  it('is refused where a member is a link', async () => {
    expect(await judged(await zipOf([['link', '/etc/passwd']], false, 0o120777))).toMatchObject({
      kind: 'malformed',
      found: 'link, a link',
    });
    const folder = scratchFolder();
    symlinkSync('/etc/passwd', join(folder, 'MEMBERS'));
    expect(await refusalOfPromise(verifyPack(folder))).toMatchObject({ kind: 'malformed', found: 'MEMBERS' });
  });

  it('is refused where little unfolds to very much, before it is unfolded', async () => {
    const bomb = await zipOf([['zeros.bin', new Uint8Array(20_000_000)]], true);
    expect(bomb.length).toBeLessThan(30_000);
    expect(await judged(bomb)).toMatchObject({ kind: 'too-large', what: 'zeros.bin, unpacked', found: 20_000_000 });
  });

  it('is refused where a member says that it is small and is not', async () => {
    const zip = await zipOf([['zeros.bin', new Uint8Array(100_000)]], true);
    for (let at = zip.indexOf(Buffer.from([0xa0, 0x86, 0x01, 0])); at >= 0;) {
      zip.writeUInt32LE(100, at);
      at = zip.indexOf(Buffer.from([0xa0, 0x86, 0x01, 0]));
    }
    const path = join(scratchFolder(), 'pack.zip');
    writeFileSync(path, zip);
    const { checks } = await verifyPack(path);
    expect(checks[0]).toMatchObject({
      about: 'zeros.bin',
      check: { outcome: 'fails', found: 'zeros.bin: it has not the 100 bytes that the ZIP says' },
    });
  });

  it('is refused where there are too many members, or too much of them', async () => {
    const zip = await zipOf([PLAIN, ['a', '1'], ['b', '2'], ['c', '3']]);
    expect(await judged(zip, { ...PACK_LIMITS, members: 3 })).toEqual({
      ...{ kind: 'too-large', what: 'members of the pack', limit: 3, found: 4, unit: 'members' },
    });
    expect(await judged(zip, { ...PACK_LIMITS, bytes: 2 })).toMatchObject({ kind: 'too-large', what: 'a pack' });
    const many = Buffer.from(zip);
    // Of entries on this disk and of all entries: it claims more than it has.
    many.writeUInt16LE(60_000, many.length - 14);
    many.writeUInt16LE(60_000, many.length - 12);
    expect(await judged(many)).toMatchObject({ kind: 'unreadable' });
  });

  it('is refused where it is no ZIP, cut short, or encrypted', async () => {
    const zip = await zipOf([PLAIN, ['a', 'x'.repeat(500)]]);
    expect(await judged(Buffer.from('PK, but nothing else'))).toMatchObject({ kind: 'unreadable', file: 'the pack' });
    expect(await judged(zip.subarray(0, zip.length - 30))).toMatchObject({ kind: 'unreadable' });
    const locked = Buffer.from(zip);
    // The first flag, in the heads of members and in the directory.
    for (const [mark, at] of [
      ['PK\x03\x04', 6],
      ['PK\x01\x02', 8],
    ] as const) {
      const place = locked.indexOf(mark, 0, 'latin1') + at;
      locked.writeUInt8((locked[place] ?? 0) | 1, place);
    }
    expect(await judged(locked)).toMatchObject({ kind: 'unreadable' });
  });

  it('that is nearly empty is no pack, and what is missing is told', async () => {
    const folder = scratchFolder();
    writeFileSync(join(folder, 'MEMBERS'), 'nonsense\n');
    const { checks } = await verifyPack(folder);
    expect(checks.every(({ check }) => check.outcome !== 'holds')).toBe(true);
    expect(checks.map(({ about }) => about)).toEqual(
      expect.arrayContaining(['MEMBERS', 'MEMBERS.seal', 'archive/key.txt', 'pack.json']),
    );
  });
});

describe('a pack with large files', () => {
  it('is made while it is read: of a file of 2 GB hardly more is read than was taken', async () => {
    let given = 0;
    const read = async function* (): AsyncIterable<Uint8Array> {
      for (; given < 2 ** 31; given += 65_536) yield new Uint8Array(65_536);
    };
    const sha256 = '0'.repeat(64);
    const zip = zipMembers([{ name: 'files/large.pdf', sha256, blob: sha256, size: 2 ** 31 }], { read }, 0);
    let taken = 0;
    for await (const piece of zip) {
      taken += (piece as Buffer).length;
      if (taken > 5_000_000) break;
    }
    expect(given - taken).toBeLessThan(2_000_000);
  });
});
