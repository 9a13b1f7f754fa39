import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { shrinkPicture } from '../../../src/reading/raster/shrink-picture.ts';
import { shiftOfWave, waves } from './wave-strip.ts';

const PIXELS = 500e6;

describe('a shrunk picture', () => {
  for (const [name, factor] of [
    ['twice', 2],
    ['five times', 5],
    ['seventeen times', 17],
  ] as const) {
    for (const channels of [1, 3, 4] as const) {
      it(`shows everything in its place when shrunk ${name} in ${channels} channels`, async () => {
        const [pixelWidth, pixelHeight] = [4001, 131];
        const layout = { pixelWidth, pixelHeight, channels, inverted: false, jpeg: false };
        const width = Math.ceil(pixelWidth / factor);
        const shrunk = await shrinkPicture(waves(pixelWidth, pixelHeight, channels), layout, width, 8, PIXELS);
        const middle = shrunk?.data.subarray(4 * width * channels, 5 * width * channels) ?? new Uint8Array(0);
        const row = [...middle].filter((_, at) => at % channels === 0);
        const shifts = [1, 18, 35].map((wave) => Math.abs(shiftOfWave(row, wave)));
        expect({ exact: shifts.every((shift) => shift < 0.03), shifts }).toEqual({ exact: true, shifts });
      });
    }
  }

  it('is not made where the data is not what the file says', async () => {
    const layout = { pixelWidth: 100, pixelHeight: 100, inverted: false };
    const jpeg = await sharp(waves(90, 100, 3), { raw: { width: 90, height: 100, channels: 3 } })
      .jpeg()
      .toBuffer();
    const results = [
      await shrinkPicture(jpeg, { ...layout, channels: 3, jpeg: true }, 10, 10, PIXELS),
      await shrinkPicture(jpeg, { ...layout, pixelWidth: 90, channels: 1, jpeg: true }, 9, 10, PIXELS),
      await shrinkPicture(Buffer.from('no JPEG'), { ...layout, channels: 3, jpeg: true }, 10, 10, PIXELS),
      await shrinkPicture(new Uint8Array(29_999), { ...layout, channels: 3, jpeg: false }, 10, 10, PIXELS),
    ];
    expect(results).toEqual([null, null, null, null]);
  });

  it('keeps plain colours exactly, inverted ones the other way round', async () => {
    const layout = { pixelWidth: 64, pixelHeight: 64, channels: 4, jpeg: false } as const;
    const plain = Uint8Array.from({ length: 64 * 64 * 4 }, (_, at) => [10, 80, 160, 250][at % 4] ?? 0);
    const [as, turned] = [
      await shrinkPicture(plain, { ...layout, inverted: false }, 8, 8, PIXELS),
      await shrinkPicture(plain, { ...layout, inverted: true }, 8, 8, PIXELS),
    ];
    expect([as, turned].map((result) => [...new Set(result?.data)])).toEqual([
      [10, 80, 160, 250],
      [245, 175, 95, 5],
    ]);
  });
});
