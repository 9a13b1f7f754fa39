import { describe, expect, it } from 'vitest';
import { halfJpeg, halfOf, readHalfJpeg } from '../../../../src/reading/raster/jpeg/half-jpeg.ts';
import { asCoded, halved, mostOff, noise, SIZES } from './halved-files.ts';
import { jpegOf, layoutOf, pictureOf, withSize } from './jpeg-files.ts';

describe.each([1, 3, 4] as const)('half of a JPEG of %i channels', (channels) => {
  // 64 by 48 samples are coded, just as many blocks as of an odd size
  it.each([
    [63, 41],
    [61, 43],
    [59, 45],
    [57, 47],
  ])('is the slow waves of its blocks, with other samples behind the ends: %i by %i', async (width, height) => {
    const file = withSize(await jpegOf(noise(64, 48, channels), { quality: 100 }), width, height);
    expect(halfOf(layoutOf(file))).toEqual({ width: (width + 1) / 2, height: (height + 1) / 2 });
    expect(await mostOff(asCoded(file))).toBeLessThanOrEqual(1);
  });

  it('does not show what lies behind the ends', async () => {
    const [width, height] = [57, 41];
    // a cosine of a block that is nothing at its first sample, and up to 72 levels at others
    const bend = (x: number): number =>
      40 * (Math.cos((3 * Math.PI) / 16) - Math.cos(((2 * x + 1) * 3 * Math.PI) / 16));
    const fileWith = (behind: number): Promise<Buffer> => {
      const picture = pictureOf(64, 48, channels, (x, y, channel) => {
        const beyond = (x < width ? 0 : bend(x - width + 1)) + (y < height ? 0 : bend(y - height + 1));
        return Math.round(70 + 10 * channel + behind * beyond);
      });
      return jpegOf(picture, { quality: 100 });
    };
    const [plain, bent] = [asCoded(await fileWith(0)), asCoded(await fileWith(1))];
    const mostApart = (one: Buffer, other: Buffer): number =>
      one.reduce((most, level, at) => Math.max(most, Math.abs(level - other[at]!)), 0);
    expect(mostApart(halved(plain)!, halved(bent)!)).toBeGreaterThan(60);
    // a level: what the waves of the bent ones are rounded by
    const inside = [plain, bent].map((file) => halved(withSize(file, width, height))!) as [Buffer, Buffer];
    expect(mostApart(...inside)).toBeLessThanOrEqual(1);
  });

  it('is the same row by row as all at once', async () => {
    for (const [width, height] of [...SIZES, [64, 17], [9, 24]] as const) {
      const file = asCoded(await jpegOf(noise(width, height, channels), { quality: 90 }));
      for (const inverted of [false, true]) {
        const layout = layoutOf(file, inverted);
        const rows: Buffer[] = [];
        expect(readHalfJpeg(file, layout, (some) => rows.push(Buffer.from(some)))).toBe(true);
        const half = halfOf(layout);
        expect(halfJpeg(file, layout)).toEqual({ ...half, data: Uint8Array.from(Buffer.concat(rows)) });
        // a row of blocks is four of pixels
        const counts = rows.map(({ length }) => length / (half.width * channels));
        expect(counts.slice(0, -1).every((count) => count === 4)).toBe(true);
        expect(counts.reduce((sum, count) => sum + count, 0)).toBe(half.height);
        expect(Number.isInteger(counts.at(-1))).toBe(true);
      }
      const cut = file.subarray(0, -2);
      expect(readHalfJpeg(cut, layoutOf(file), () => undefined)).toBe(false);
      expect(halved(cut)).toBeNull();
    }
  });
});
