import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halvePixels, lumaOf, smoothPixels } from '../../../src/comparing/kernels/planes.ts';
import type { Pixels } from '../../../src/comparing/kernels/planes.ts';
import { randomFrom } from './random-from.ts';

// Every law states the formula in plain numbers of 64 bits and holds the kernel to the last bit of it.

const seed = fc.integer({ min: 1, max: 2 ** 31 - 2 });
const size = fc.tuple(fc.integer({ min: 1, max: 23 }), fc.integer({ min: 1, max: 9 }));
const plane: fc.Arbitrary<Pixels> = fc.tuple(size, seed).map(([[width, height], from]) => {
  const next = randomFrom(from);
  return { width, height, data: Float32Array.from({ length: width * height }, () => next() * 255) };
});

/** A pixel, with the rim going on beyond it. */
function pixelAt({ width, height, data }: Pixels, x: number, y: number): number {
  return data[Math.max(0, Math.min(height - 1, y)) * width + Math.max(0, Math.min(width - 1, x))]!;
}

/** A plane made a pixel at a time from its definition, each rounded to 32 bits. */
function madeOf(width: number, height: number, pixel: (x: number, y: number) => number): Float32Array {
  return Float32Array.from({ length: width * height }, (_, at) => pixel(at % width, Math.floor(at / width)));
}

const binomial = (of: (step: number) => number): number => (of(-2) + of(2) + 4 * (of(-1) + of(1)) + 6 * of(0)) / 16;

describe('a plane', () => {
  it('of luma weighs the channels of each pixel of a part of the raster', () => {
    fc.assert(
      fc.property(size, fc.tuple(fc.nat(5), fc.nat(5)), seed, ([width, height], [beside, above], from) => {
        const next = randomFrom(from);
        const across = width + beside;
        const rgb = Uint8Array.from({ length: across * (height + above) * 3 }, () => next() * 256);
        const expected = madeOf(width, height, (x, y) => {
          const at = ((above + y) * across + beside + x) * 3;
          return 0.2126 * rgb[at]! + 0.7152 * rgb[at + 1]! + 0.0722 * rgb[at + 2]!;
        });
        const first = (above * across + beside) * 3;
        expect([...lumaOf(rgb, first, across, width, height)]).toEqual([...expected]);
      }),
    );
  });

  it('smoothed has each pixel mixed by 1 4 6 4 1 along, then down', () => {
    fc.assert(
      fc.property(plane, (one) => {
        const { width, height } = one;
        const along = madeOf(width, height, (x, y) => binomial((step) => pixelAt(one, x + step, y)));
        const expected = madeOf(width, height, (x, y) =>
          binomial((step) => pixelAt({ width, height, data: along }, x, y + step)),
        );
        expect([...smoothPixels(one)]).toEqual([...expected]);
      }),
    );
  });

  it('halved has the mean of 2 x 2 pixels', () => {
    fc.assert(
      fc.property(plane, (one) => {
        const [width, height] = [Math.max(1, one.width >> 1), Math.max(1, one.height >> 1)];
        const expected = madeOf(width, height, (column, row) => {
          const [x, y] = [column * 2, row * 2];
          return (
            (pixelAt(one, x, y) + pixelAt(one, x + 1, y) + pixelAt(one, x, y + 1) + pixelAt(one, x + 1, y + 1)) / 4
          );
        });
        expect([...halvePixels(one)]).toEqual([...expected]);
      }),
    );
  });

  it('of a row longer than the memory at hand is taken all the same', () => {
    const width = 300_001;
    const data = Float32Array.from({ length: width }, (_, at) => at % 251);
    const smooth = smoothPixels({ width, height: 1, data });
    expect([smooth[0], smooth[100_000], smooth.at(-1)]).toEqual(
      [0, 100_000, width - 1].map((x) =>
        Math.fround(binomial((step) => pixelAt({ width, height: 1, data }, x + step, 0))),
      ),
    );
  });
});
