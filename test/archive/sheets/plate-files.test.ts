import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openKeptFacts, pageHashes, startPageWorkers } from '../../../src/archive/index.ts';
import { describePlates } from '../../../src/archive/sheets/separations/describe-plates.ts';
import { DEFAULT_LIMITS, storedZip, crc32, type Limits } from '../../../src/model/index.ts';
import { hasTool } from '../../reading/pdf/outside-tool.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';

const pool = startPageWorkers(1, DEFAULT_LIMITS);
afterAll(() => pool.close());
const folder = scratchFolder();

interface Tiny {
  readonly width?: number;
  /** One plate's, or all four at once. */
  readonly inks?: 1 | 4;
}

/** A plate of a few pixels at 10 to an inch: half a sheet's side of nothing. */
async function plate(name: string, { width = 40, inks = 1 }: Tiny = {}): Promise<void> {
  const path = join(folder, name);
  mkdirSync(dirname(path), { recursive: true });
  const channels = inks === 1 ? 1 : 3;
  const data = Buffer.from(Uint8Array.from({ length: width * 30 * channels }, (_, at) => (at * 7) % 256));
  await sharp(data, { raw: { width, height: 30, channels } })
    .toColourspace(inks === 1 ? 'b-w' : 'cmyk')
    .tiff({ compression: 'lzw', xres: 10 / 25.4, yres: 10 / 25.4 })
    .toFile(path);
}

/** Packed by Info-ZIP, as people do. */
function zipOf(name: string): string {
  const to = join(folder, `${name}.zip`);
  execFileSync('zip', ['-q', '-r', to, '.'], { cwd: join(folder, name) });
  return to;
}

async function read(path: string, name: string, limits: Limits = DEFAULT_LIMITS) {
  const tools = { pool, limits, kept: await openKeptFacts(null, '') };
  return describePlates(tools, { path, name }, () => undefined);
}

const sides = ['front', 'back'].flatMap((side) => ['C', 'K'].map((ink) => `Bogen 1/${side}_${ink}.tif`));

describe.skipIf(!hasTool('zip', 'zip'))('a ZIP of plates', () => {
  beforeAll(async () => {
    for (const name of ['good', 'sizes', 'untold', 'short', 'huge']) {
      for (const side of sides) await plate(join(name, side));
    }
    await plate('good/Bogen 1.tif', { inks: 4 });
    await plate('sizes/Bogen 1/front_K.tif', { width: 80 });
    await plate('untold/Bogen 1/inside.tif');
    truncateSync(join(folder, 'short', sides[1]!), 300);
    const bytes = readFileSync(join(folder, 'huge', sides[0]!));
    // the entry of the picture's width, 256, says a million
    const entry = bytes.indexOf(Buffer.from([0, 1, 3, 0, 1, 0, 0, 0]));
    bytes.writeUInt16LE(4, entry + 2);
    bytes.writeUInt32LE(1_000_000_000, entry + 8);
    writeFileSync(join(folder, 'huge', sides[0]!), bytes);
  });

  it('has a page for each plate, also one of all inks, in the order of their names, by the hash of its bytes', async () => {
    const path = zipOf('good');
    const pages = await read(path, 'good.zip');
    const names = [...sides, 'Bogen 1.tif'].sort();
    const sums = names.map((name) => execFileSync('sha256sum', [join(folder, 'good', name)], { encoding: 'utf8' }));
    const hashes = pages.map((page) => ('contentHash' in page ? page.contentHash : null));
    expect(hashes).toEqual(sums.map((sum) => sum.slice(0, 64)));
    const { widthMm, heightMm } = pages[0] as { widthMm: number; heightMm: number };
    expect([widthMm.toFixed(2), heightMm.toFixed(2)]).toEqual(['101.60', '76.20']);
    // Whoever checks a pack finds the same.
    expect((await pageHashes(path, DEFAULT_LIMITS)).map(({ contentHash }) => contentHash)).toEqual(hashes);
    expect(readdirSync(join(folder, 'good'))).toEqual(['Bogen 1', 'Bogen 1.tif']);
  });

  it.each([
    ['sizes', { kind: 'malformed', expected: 'plates of one size' }],
    ['untold', { kind: 'malformed', pointer: 'Bogen 1/inside.tif' }],
    ['short', { kind: 'unreadable', file: sides[1], reason: expect.stringMatching(/truncated/) as unknown }],
    ['huge', { kind: 'too-large', what: sides[0], unit: 'pixels' }],
  ])('is refused as a whole, and the plate named, where it has one that is wrong: %s', async (name, refusal) => {
    expect(await laterRefusalOf(read(zipOf(name), `${name}.zip`))).toMatchObject(refusal);
  });

  it('is refused where it has none, or has more than the machine is to bear', async () => {
    mkdirSync(join(folder, 'none'));
    writeFileSync(join(folder, 'none', 'readme.txt'), 'no plate');
    expect(await laterRefusalOf(read(zipOf('none'), 'none.zip'))).toMatchObject({
      ...{ kind: 'unreadable', file: 'none.zip', reason: 'there is no TIFF in this ZIP' },
    });
    const good = zipOf('good');
    const limited = (limits: Partial<Limits>) =>
      laterRefusalOf(read(good, 'good.zip', { ...DEFAULT_LIMITS, ...limits }));
    expect(await limited({ plates: 3 })).toMatchObject({ kind: 'too-large', unit: 'members' });
    expect(await limited({ platesBytes: 1000 })).toMatchObject({ kind: 'too-large', what: 'good.zip' });
    expect(await limited({ fileBytes: 100 })).toMatchObject({ kind: 'too-large', unit: 'bytes' });
  });

  it.each([
    ['../../etc/passwd(Cyan).tif', 'unreadable'],
    ['/etc/passwd(Cyan).tif', 'unreadable'],
    ['C:\\plates\\a(Cyan).tif', 'unreadable'],
    ['a/./b(Cyan).tif', 'malformed'],
    ['a\u202etif.(nayC).tif', 'malformed'],
    ['line\nbreak(Cyan).tif', 'malformed'],
    [`${'a'.repeat(600)}(Cyan).tif`, 'malformed'],
  ])('is refused where a name leads elsewhere or cannot be seen: %j', async (name, kind) => {
    const content = readFileSync(join(folder, 'good', sides[0]!));
    const pieces = storedZip([{ name, bytes: content.length, crc32: crc32(content), content }]);
    const path = join(folder, 'hostile.zip');
    writeFileSync(path, Buffer.concat(pieces.map((piece) => ('content' in piece ? piece.content : piece))));
    expect(await laterRefusalOf(read(path, 'hostile.zip'))).toMatchObject({ kind });
  });
});
