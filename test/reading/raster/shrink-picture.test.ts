import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { halfJpeg } from '../../../src/reading/raster/jpeg/half-jpeg.ts';
import type { SampleLayout } from '../../../src/reading/raster/picture-kind.ts';
import { shrinkPicture, type Coloured } from '../../../src/reading/raster/shrink-picture.ts';
import { jpegOf } from './jpeg/jpeg-files.ts';
import { photo } from './sample-pictures.ts';
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

describe('half of a JPEG whose samples become colours', () => {
  const FIRST_ONLY = (levels: Uint8Array): Uint8Array => levels.filter((_, at) => at % 4 === 0).map((ink) => 255 - ink);
  /** What is left of the first ink, for pixels of four. */
  const coloured = (mayReachOut: boolean): Coloured => ({
    colouring: (pixels) => {
      const colours = new Uint8Array(pixels);
      let done = 0;
      const put = (inks: Uint8Array): void => {
        const left = FIRST_ONLY(inks);
        colours.set(left, done);
        done += left.length;
      };
      return { put, colours };
    },
    mayReachOut,
  });
  const layoutOf = (pixelWidth: number, pixelHeight: number): SampleLayout => ({
    ...{ pixelWidth, pixelHeight, channels: 4, inverted: false, jpeg: true },
  });
  const half = (file: Uint8Array, layout: SampleLayout, mayReachOut: boolean) => {
    const [width, height] = [Math.ceil(layout.pixelWidth / 2), Math.ceil(layout.pixelHeight / 2)];
    return shrinkPicture(file, layout, width, height, PIXELS, coloured(mayReachOut));
  };

  it.each([
    [300, 240],
    [301, 240],
    [300, 239],
    [301, 239],
  ])('of %i by %i is of the size that is asked for, and says how much of it is shown', async (width, height) => {
    const layout = layoutOf(width, height);
    const file = await jpegOf(await photo(width, height, 4), { quality: 95 });
    const decoded = FIRST_ONLY(halfJpeg(file, layout)!.data);
    const isEven = width % 2 === 0 && height % 2 === 0;

    const reaching = (await half(file, layout, true))!;
    const size = { width: Math.ceil(width / 2), height: Math.ceil(height / 2) };
    expect(reaching).toEqual({ ...size, data: decoded, shown: { width: width / 2, height: height / 2 } });

    const whole = (await half(file, layout, false))!;
    expect({ width: whole.width, height: whole.height, length: whole.data.length }).toEqual({
      ...size,
      length: size.width * size.height,
    });
    expect(whole.shown ?? size).toEqual(size);
    // an odd one is made smaller as a whole, an even one is decoded as before
    expect(Buffer.compare(whole.data, decoded) === 0).toBe(isEven);
  });

  it.each([
    [4001, 131],
    [4001, 130],
    [4000, 131],
  ])('of %i by %i shows everything in its place among the pixels that are shown', async (width, height) => {
    const layout = layoutOf(width, height);
    const file = await jpegOf(
      { width, height, channels: 4, data: Buffer.from(waves(width, height, 4)) },
      { quality: 100 },
    );
    for (const mayReachOut of [true, false]) {
      const { data, width: across, shown } = (await half(file, layout, mayReachOut))!;
      expect(shown?.width ?? across).toBe(mayReachOut ? width / 2 : Math.ceil(width / 2));
      // coded turned round, as is usual, and turned round once more by what stands for colours
      const row = [...data.subarray(4 * across, 5 * across)];
      const shifts = [1, 18, 35].map((wave) => Math.abs(shiftOfWave(row, wave, shown?.width)));
      expect({ exact: shifts.every((shift) => shift < 0.03), shifts }).toEqual({ exact: true, shifts });
    }
  });

  it('is all inside where the file is not decoded straight to half, and is as if nothing had been tried before', async () => {
    const [width, height] = [301, 239];
    const picture = await photo(width, height, 4);
    const inSteps = await jpegOf(picture, { quality: 95, progressive: true });
    const sound = await jpegOf(picture, { quality: 95 });
    const cut = sound.subarray(0, Math.floor(sound.length / 2));
    for (const file of [inSteps, cut]) {
      const reaching = await half(file, layoutOf(width, height), true);
      expect(reaching).not.toBeNull();
      expect(reaching).toEqual(await half(file, layoutOf(width, height), false));
      expect(reaching?.shown).toBeUndefined();
    }
    const samples = shrinkPicture(
      ...([picture.data, { ...layoutOf(width, height), jpeg: false }, 151, 120, PIXELS, coloured(true)] as const),
    );
    expect((await samples)?.shown).toBeUndefined();
  });

  it('is not what is taken where another size is wanted, which is all inside', async () => {
    const [width, height] = [301, 239];
    const file = await jpegOf(await photo(width, height, 4), { quality: 95 });
    for (const [across, down] of [
      [150, 119],
      [151, 119],
      [150, 120],
      [100, 80],
      [200, 160],
    ] as const) {
      const found = await shrinkPicture(file, layoutOf(width, height), across, down, PIXELS, coloured(true));
      expect({ width: found?.width, height: found?.height, shown: found?.shown }).toEqual({
        ...{ width: across, height: down, shown: undefined },
      });
    }
  });
});
