import { mkdtemp, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, Refusal } from '../../../src/model/index.ts';
import { cutPlate, readPlateHeader, shrinkPlate } from '../../../src/reading/index.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plates-'));
});
afterAll(() => rm(folder, { recursive: true }));

type Coding = 'ccittfax4' | 'lzw' | 'none' | 'deflate' | 'packbits';

/** A plate of 1200 x 800 px at 600 an inch: ink on its left third, half of that in rows in the middle. */
interface PlateOrder {
  readonly coding?: Coding;
  readonly bits?: 1 | 8;
  readonly minIsWhite?: boolean;
}

async function plate(name: string, how: PlateOrder = {}) {
  const { coding = 'ccittfax4', bits = 1, minIsWhite = false } = how;
  const data = Uint8Array.from({ length: 1200 * 800 }, (_, at) => {
    const [x, y] = [at % 1200, Math.floor(at / 1200)];
    return x < 400 || (x < 800 && y % 2 === 0) ? 0 : 255;
  });
  const path = join(folder, name);
  await sharp(data, { raw: { width: 1200, height: 800, channels: 1 } })
    .toColourspace('b-w')
    .tiff({
      compression: coding,
      xres: 600 / 25.4,
      yres: 600 / 25.4,
      ...(bits === 1 ? { bitdepth: 1 } : {}),
      miniswhite: minIsWhite,
    })
    .toFile(path);
  return path;
}

const headerOf = (path: string) => readPlateHeader(path, DEFAULT_LIMITS);
async function refusalOf(work: Promise<unknown>): Promise<object> {
  const error = await work.then(
    () => null,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(Refusal);
  const { kind, details } = error as Refusal;
  return { kind, ...details };
}

/** Changes an entry of the directory of a little-endian TIFF: its value where it stands in the entry. */
async function withEntry(path: string, tag: number, value: number): Promise<string> {
  const bytes = await readFile(path);
  const at = bytes.readUInt32LE(4);
  const count = bytes.readUInt16LE(at);
  for (let n = 0; n < count; n++) {
    const entry = at + 2 + 12 * n;
    if (bytes.readUInt16LE(entry) !== tag) continue;
    bytes.writeUInt16LE(4, entry + 2);
    bytes.writeUInt32LE(value, entry + 8);
  }
  const changed = `${path}-${tag}.tif`;
  await writeFile(changed, bytes);
  return changed;
}

describe('a plate', () => {
  it.each<[string, Parameters<typeof plate>[1]]>([
    ['in one bit, fax-coded', {}],
    ['in one bit where 0 is paper', { minIsWhite: true }],
    ['in one bit as it stands', { coding: 'none' }],
    ['in eight bits', { coding: 'lzw', bits: 8 }],
  ])('%s is read as ink, the same whichever way it is stored', async (name, how) => {
    const path = await plate(`${name}.tif`, how);
    expect(await headerOf(path)).toEqual({
      pixelWidth: 1200,
      pixelHeight: 800,
      bits: how?.bits ?? 1,
      ppi: { x: expect.closeTo(600, 2) as unknown, y: expect.closeTo(600, 2) as unknown },
      inkName: null,
    });
    const { width, height, data } = await shrinkPlate({ path, name: 'plate' }, { width: 12, height: 8 });
    expect([width, height]).toEqual([12, 8]);
    const row = [...data.subarray(4 * 12, 5 * 12)];
    expect([row[1], row[6], row[10]]).toEqual([255, expect.closeTo(127.5, -0.5), 0]);
    expect([...(await cutPlate({ path, name: 'plate' }, { left: 399, top: 10, side: 2 })).data]).toEqual([
      255, 255, 255, 0,
    ]);
  });

  it('of all inks at once is a composite, which is none', async () => {
    const path = join(folder, 'composite.tif');
    await sharp({ create: { width: 40, height: 30, channels: 3, background: '#36c' } })
      .toColourspace('cmyk')
      .tiff({ compression: 'lzw' })
      .toFile(path);
    expect(await headerOf(path)).toMatchObject({ composite: true });
  });
});

describe('a plate that cannot be read is refused before anything of it is decoded', () => {
  it('cut short', async () => {
    const path = await plate('short.tif', { coding: 'none', bits: 8 });
    const bytes = await readFile(path);
    // the directory first, so that only its strips tell what is missing
    expect(bytes.readUInt32LE(4)).toBeGreaterThan(0);
    await truncate(path, bytes.length - 5000);
    expect(await refusalOf(headerOf(path))).toMatchObject({
      kind: 'unreadable',
      reason: expect.stringMatching(/truncated/) as unknown,
    });
  });

  it.each<[string, number, number, object]>([
    ['that declares a gigantic size', 256, 4_000_000_000, { kind: 'too-large', unit: 'pixels' }],
    [
      'that declares more rows than its bytes can hold',
      257,
      10_000_000,
      { kind: 'unreadable', reason: expect.stringMatching(/more than its \d+ bytes can hold/) as unknown },
    ],
    ['that is stored turned', 274, 6, { kind: 'unreadable', reason: 'it is stored turned or mirrored' }],
    [
      'in a coding that plates do not have',
      259,
      7,
      { kind: 'unreadable', reason: 'plates are not stored in TIFF coding 7' },
    ],
    ['that does not say whether 0 is ink', 262, 5, { kind: 'unreadable' }],
  ])('%s', async (name, tag, value, refusal) => {
    expect(await refusalOf(headerOf(await withEntry(await plate(`${name}.tif`), tag, value)))).toMatchObject(refusal);
  });

  it('that is no TIFF, empty, or not there', async () => {
    await writeFile(join(folder, 'text.tif'), 'not a picture at all');
    await writeFile(join(folder, 'empty.tif'), '');
    expect(await refusalOf(headerOf(join(folder, 'text.tif')))).toMatchObject({ reason: 'it is no TIFF' });
    expect(await refusalOf(headerOf(join(folder, 'empty.tif')))).toMatchObject({ reason: 'the file is empty' });
    expect(await refusalOf(headerOf(join(folder, 'none.tif')))).toEqual({ kind: 'not-found', what: 'none.tif' });
  });

  it('whose picture turns out to be damaged', async () => {
    const path = await plate('damaged.tif', { coding: 'deflate', bits: 8 });
    const bytes = await readFile(path);
    bytes.fill(0x55, 200, 500);
    await writeFile(path, bytes);
    expect(await refusalOf(shrinkPlate({ path, name: 'plate' }, { width: 12, height: 8 }))).toMatchObject({
      kind: 'unreadable',
      reason: expect.stringMatching(/damaged/) as unknown,
    });
  });
});
