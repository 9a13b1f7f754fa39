import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { crc32 as zlibCrc32 } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { crc32, storedZip } from '../../src/model/index.ts';
import { listZip, memberPieces, type ZipMember } from '../../src/reading/index.ts';
import { hasTool, run } from '../reading/pdf/outside-tool.ts';

const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-zip-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Given {
  readonly name: string;
  readonly content: Uint8Array;
  /** Beyond its content it has nothing but zeros, which no disk has to hold. */
  readonly bytes?: number;
  readonly crc32?: number;
}

function written(name: string, files: readonly Given[]): string {
  const path = join(folder, name);
  const file = openSync(path, 'w');
  let at = 0;
  const given = files.map((one) => ({ crc32: crc32(one.content), bytes: one.content.length, ...one }));
  for (const piece of storedZip(given)) {
    const bytes = 'content' in piece ? piece.content : piece;
    writeSync(file, bytes, 0, bytes.length, at);
    at += 'content' in piece ? piece.bytes : piece.length;
  }
  closeSync(file);
  return path;
}

const list = (path: string): Promise<readonly ZipMember[]> =>
  listZip(path, { what: 'the ZIP', members: 10, expansion: 1, zipEdition: 45, accept: () => undefined });

const FILES: readonly Given[] = [
  { name: 'Bogen 1/Schön(Cyan).tif', content: Uint8Array.from({ length: 5000 }, (_, at) => at) },
  { name: 'leer.tif', content: new Uint8Array() },
];

describe('a ZIP of files as they are', () => {
  it.skipIf(!hasTool('unzip', 'unzip'))('is one that Info-ZIP takes, with names in any script', () => {
    expect(run('unzip', ['-t', written('small.zip', FILES)])).toMatch(/No errors detected/);
  });

  it('is listed and unpacked as it was given, under the rules for strangers', async () => {
    const path = written('listed.zip', FILES);
    const members = await list(path);
    expect(members.map(({ name, bytes }) => [name, bytes])).toEqual(
      FILES.map(({ name, content }) => [name, content.length]),
    );
    const pieces: Uint8Array[] = [];
    for await (const piece of memberPieces(path, members[0]!)) pieces.push(piece);
    expect(Buffer.concat(pieces).equals(FILES[0]!.content)).toBe(true);
  });

  it.skipIf(!hasTool('unzip', 'unzip'))('may be larger than four gibibytes', async () => {
    const large = 5 * 2 ** 30;
    const files = [{ name: 'large.tif', content: new Uint8Array(), bytes: large, crc32: 0 }, ...FILES];
    const path = written('large.zip', files);
    expect((await list(path)).map(({ name, bytes }) => [name, bytes])).toEqual([
      ['large.tif', large],
      ...FILES.map(({ name, content }) => [name, content.length]),
    ]);
    const told = run('unzip', ['-l', path]);
    expect(told).toMatch(new RegExp(`${large} .*large\\.tif`));
    expect(told).toMatch(/5000 .*Cyan/);
  });

  // Node's own zlib is the judge.
  it('has the checksum that zlib computes, of any bytes in any pieces', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.nat(300), (bytes, at) => {
        expect(crc32(bytes.subarray(at), crc32(bytes.subarray(0, at)))).toBe(zlibCrc32(bytes));
      }),
    );
  });
});
