import { mkdtemp, open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cutPlate } from '../../../src/reading/index.ts';
import { faxSquare } from '../../../src/reading/plates/fax-square.ts';
import { stripsAround } from '../../../src/reading/plates/strips-around.ts';
import { hasTool, run } from '../pdf/outside-tool.ts';

// libtiff's own program writes the same plate in strips of another height, coding, order of bits and of bytes
const CODINGS: readonly (readonly [name: string, words: readonly string[]])[] = [
  ['fax group 4', ['-c', 'g4', '-r', '16']],
  ['fax group 4, low bits first', ['-c', 'g4', '-r', '16', '-f', 'lsb2msb']],
  ['fax group 4 in one strip', ['-c', 'g4', '-r', '400']],
  ['fax group 3 in two dimensions', ['-c', 'g3:2d', '-r', '24']],
  ['high bytes first', ['-B', '-c', 'g4', '-r', '16']],
  ['with offsets for large files', ['-8', '-c', 'g4', '-r', '16']],
  ['LZW', ['-c', 'lzw', '-r', '16']],
  ['Deflate, each row less the one before', ['-c', 'zip:2', '-r', '16']],
  ['PackBits', ['-c', 'packbits', '-r', '7']],
  ['uncoded', ['-c', 'none', '-r', '16']],
];
const [WIDTH, HEIGHT] = [600, 400];
/** No two rows and no two columns alike. */
const isInk = (x: number, y: number): boolean => (x * x + 3 * y * y + ((x * y) >> 3)) % 7 < 3;

describe.runIf(hasTool('tiffcp', 'libtiff-tools'))('a square of a plate in strips', () => {
  let folder = '';
  let whole = '';
  let wholeEight = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'strips-'));
    [whole, wholeEight] = [join(folder, 'whole.tif'), join(folder, 'whole-8.tif')];
    const data = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, at) =>
      isInk(at % WIDTH, Math.floor(at / WIDTH)) ? 0 : 255,
    );
    const image = sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } }).toColourspace('b-w');
    await image.clone().tiff({ compression: 'none', bitdepth: 1, xres: 40, yres: 40 }).toFile(whole);
    await image.clone().tiff({ compression: 'none', xres: 40, yres: 40 }).toFile(wholeEight);
  });
  afterAll(() => rm(folder, { recursive: true }));

  it.each(CODINGS)('is the same as the plate has it: %s', async (name, words) => {
    const path = join(folder, `${name}.tif`);
    run('tiffcp', [...words, name.startsWith('Deflate') ? wholeEight : whole, path]);
    for (const [left, top] of [
      [0, 0],
      [200, 13],
      [WIDTH - 64, HEIGHT - 64],
    ] as const) {
      const square = await cutPlate({ path, name }, { left, top, side: 64 });
      const expected = Array.from({ length: 64 * 64 }, (_, at) =>
        isInk(left + (at % 64), top + Math.floor(at / 64)) ? 255 : 0,
      );
      expect([...square.data]).toEqual(expected);
    }
  });

  it('decodes no strip but those it lies in', async () => {
    const path = join(folder, 'few.tif');
    run('tiffcp', ['-c', 'g4', '-r', '16', whole, path]);
    const strips = await stripsAround({ path, name: 'few' }, { top: 40, count: 64 });
    const { height } = await sharp(strips!.tiff).metadata();
    expect([strips!.top, height]).toEqual([32, 80]);
  });

  it('is cut from the whole where there is one strip only', async () => {
    const path = join(folder, 'one.tif');
    run('tiffcp', ['-c', 'lzw', '-r', String(HEIGHT), whole, path]);
    expect(await stripsAround({ path, name: 'one' }, { top: 40, count: 64 })).toBeNull();
    expect((await cutPlate({ path, name: 'one' }, { left: 0, top: 0, side: 2 })).data.length).toBe(4);
  });

  it.each(['white', 'black'])('in fax group 4 is decoded from runs, ink being coded as %s', async (name) => {
    const path = join(folder, `${name}.tif`);
    await sharp(whole)
      .toColourspace('b-w')
      .tiff({ compression: 'ccittfax4', bitdepth: 1, miniswhite: name === 'black' })
      .toFile(path);
    const file = await open(path);
    const square = await faxSquare(file, name, { left: 100, top: 50, side: 64 });
    await file.close();
    const expected = Array.from({ length: 64 * 64 }, (_, at) =>
      isInk(100 + (at % 64), 50 + Math.floor(at / 64)) ? 255 : 0,
    );
    expect([...square!.data]).toEqual(expected);
  });
});
