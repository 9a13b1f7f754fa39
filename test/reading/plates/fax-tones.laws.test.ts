import { mkdtemp, open, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cutPlate, shrinkPlate } from '../../../src/reading/index.ts';
import { faxTones } from '../../../src/reading/plates/fax-tones.ts';
import type { InkTones } from '../../../src/reading/plates/ink-tones.ts';
import type { DrawnPlate } from './drawn-plate.ts';
import { drawPlate, writePlate } from './drawn-plate.ts';

let folder = '';
let path = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'fax-tones-'));
  path = join(folder, 'plate.tif');
});
afterAll(() => rm(folder, { recursive: true }));

type Size = Pick<InkTones, 'width' | 'height'>;

async function tonesOf(size: Size): Promise<InkTones | null> {
  const file = await open(path);
  try {
    return await faxTones(file, 'plate', size);
  } finally {
    await file.close();
  }
}

/** By how much each pixel of a row or column weighs for a tone: as the middle of its block, by the centres around that. */
function weightsOf(pixels: number, tones: number, tone: number): readonly (readonly [pixel: number, weight: number])[] {
  const [before, own, behind] = [-1, 0, 1].map((by) => Math.round(((2 * (tone + by) + 1) * pixels) / tones) / 2) as [
    number,
    number,
    number,
  ];
  const block = Math.max(1, Math.floor(pixels / tones / 2));
  return Array.from({ length: pixels }, (_, pixel) => {
    const middle = (Math.floor(pixel / block) + 0.5) * block;
    return [pixel, Math.max(0, middle < own ? middle - before : behind - middle)] as const;
  }).filter(([, weight]) => weight > 0);
}

/** The mean under each triangle, pixel by pixel. */
function plainTones({ width, height, ink }: DrawnPlate, size: Size): Float64Array {
  const tones = new Float64Array(size.width * size.height);
  for (let y = 0; y < size.height; y++) {
    const rows = weightsOf(height, size.height, y);
    for (let x = 0; x < size.width; x++) {
      let [sum, all] = [0, 0];
      for (const [column, across] of weightsOf(width, size.width, x)) {
        for (const [row, down] of rows) {
          sum += across * down * ink[row * width + column]!;
          all += across * down;
        }
      }
      tones[y * size.width + x] = sum / all;
    }
  }
  return tones;
}

const furthest = (one: Uint8Array, other: ArrayLike<number>): number =>
  one.reduce((most, value, at) => Math.max(most, Math.abs(value - other[at]!)), 0);

/** Ink in dots of 175 lines an inch under 45 degrees at 2400 an inch, darker from left to right, with a bar of full ink. */
function screened(width: number, height: number): DrawnPlate {
  const cell = 2400 / 175;
  const ink = Uint8Array.from({ length: width * height }, (_, at) => {
    const [x, y] = [at % width, Math.floor(at / width)];
    if (y > height * 0.7 && y < height * 0.8) return 255;
    const [u, v] = [(x + y) / Math.SQRT2 / cell, (x - y) / Math.SQRT2 / cell];
    const threshold = (2 + Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v)) / 4;
    return threshold < x / width ? 255 : 0;
  });
  return { width, height, ink };
}

describe('tones of a plate in fax group 4', () => {
  const shrinking = fc.double({ min: 2, max: 13, noNaN: true });
  const side = fc.integer({ min: 30, max: 400 });

  it('are the means of its pixels under triangles from centre to centre, rounded', async () => {
    await fc.assert(
      fc.asyncProperty(side, side, shrinking, shrinking, fc.integer(), async (width, height, across, down, seed) => {
        const plate = drawPlate(width, height, seed);
        const fewer = (pixels: number, times: number): number => Math.min(pixels >> 1, Math.ceil(pixels / times));
        const size = { width: fewer(width, across), height: fewer(height, down) };
        await writePlate(path, plate, true);
        const tones = await tonesOf(size);
        // half a level by rounding, and what single precision leaves of 255
        expect(furthest(tones!.data, plainTones(plate, size))).toBeLessThan(0.5 + 1e-4);
      }),
      { numRuns: 60 },
    );
  });

  it('are inverted where what is coded as black is paper', async () => {
    const plate = drawPlate(300, 200, 7);
    const size = { width: 33, height: 22 };
    await writePlate(path, plate, false);
    expect(furthest((await tonesOf(size))!.data, plainTones(plate, size))).toBeLessThan(0.5 + 1e-4);
  });

  it('of a screened picture differ from those of libvips by less than the screen that both leave', async () => {
    // libvips takes means of whole pixels first, and triangles over these, so that it smooths a little more
    const plate = screened(1801, 1349);
    await writePlate(path, plate, true);
    const size = { width: 200, height: 150 };
    const expected = await sharp(path)
      .resize({ ...size, fit: 'fill', kernel: 'linear', fastShrinkOnLoad: false })
      .toColourspace('b-w')
      .negate()
      .raw()
      .toBuffer();
    const { data } = (await tonesOf(size))!;
    const differences = [...data].map((tone, at) => tone - expected[at]!);
    const mean = differences.reduce((sum, difference) => sum + difference, 0) / differences.length;
    const rms = Math.sqrt(differences.reduce((sum, difference) => sum + difference ** 2, 0) / differences.length);
    expect(Math.abs(mean)).toBeLessThan(0.1);
    expect(rms).toBeLessThan(4);
    expect(furthest(data, expected)).toBeLessThan(20);
  });

  it.each([
    ['more than 13 pixels a tone both ways', { width: 20, height: 15 }],
    ['less than 2 down', { width: 30, height: 130 }],
    ['less than 2 across', { width: 170, height: 30 }],
  ])('are left to the library where they are to be of %s', async (_, size) => {
    await writePlate(path, drawPlate(320, 240, 3), true);
    expect(await tonesOf(size)).toBeNull();
  });
});

describe('a plate in fax group 4 that is not coded as it must be', () => {
  const [width, height] = [900, 600];
  const size = { width: 100, height: 67 };
  const damaged = async (damage: (bytes: Buffer, end: number) => void): Promise<void> => {
    await writePlate(path, drawPlate(width, height, 11), true);
    const bytes = await readFile(path);
    // the strips stand first
    damage(bytes, bytes.readUInt32LE(4));
    await writeFile(path, bytes);
  };
  const byLibrary = async (): Promise<Buffer | string> =>
    sharp(path, { failOn: 'error' })
      .resize({ ...size, fit: 'fill', kernel: 'linear', fastShrinkOnLoad: false })
      .toColourspace('b-w')
      .negate()
      .raw()
      .toBuffer()
      .catch((error: unknown) => (error as Error).message.split('\n')[0]!);

  it.each<[string, (bytes: Buffer, end: number) => void]>([
    ['in its middle', (bytes, end) => bytes.fill(0xaa, end >> 1, (end >> 1) + 80)],
    ['at its end', (bytes, end) => bytes.fill(0, end - 200, end)],
  ])('%s is refused by what libtiff says of it', async (_, damage) => {
    await damaged(damage);
    const says = await byLibrary();
    expect(says).toMatch(/^tiff2vips: (Bad|Uncompressed)/);
    expect(await tonesOf(size)).toBeNull();
    await expect(shrinkPlate({ path, name: 'plate' }, size)).rejects.toMatchObject({
      kind: 'unreadable',
      details: { file: 'plate', reason: `its picture is damaged: ${says as string}` },
    });
  });

  it('but is read by libtiff, is read as that has it', async () => {
    await damaged((bytes, end) => bytes.fill(0, end >> 1, (end >> 1) + 8));
    expect(await tonesOf(size)).toBeNull();
    const { data } = await shrinkPlate({ path, name: 'plate' }, size);
    expect(data).toEqual(await byLibrary());
  });

  it('gives a square above the damage, and is refused for one below it in the same strip', async () => {
    await damaged((bytes, end) => bytes.fill(0, end - 200, end));
    const file = { path, name: 'plate' };
    expect((await cutPlate(file, { left: 0, top: 0, side: 64 })).data).toHaveLength(64 * 64);
    await expect(cutPlate(file, { left: 0, top: height - 64, side: 64 })).rejects.toMatchObject({
      kind: 'unreadable',
      details: { reason: expect.stringMatching(/^its picture is damaged: tiff2vips: Bad code word/) as unknown },
    });
  });
});
