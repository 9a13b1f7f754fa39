import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PageRaster } from '../../../src/model/index.ts';
import { halveRaster } from '../../../src/comparing/index.ts';
import { shrinkRaster } from '../../../src/plates/index.ts';

const rasters = fc
  .record({ width: fc.integer({ min: 1, max: 70 }), height: fc.integer({ min: 1, max: 40 }) })
  .chain(({ width, height }) =>
    fc
      .uint8Array({ minLength: width * height * 3, maxLength: width * height * 3 })
      .map((rgb): PageRaster => ({ width, height, ppi: 100, rgb })),
  );
const resolutions = fc.double({ min: 50, max: 100, noNaN: true });

/** The mean of a channel over a part of a raster, whose edges may run through pixels. */
function meanOver({ width, height, rgb }: PageRaster, channel: number, part: readonly number[]): number {
  const [left, top, right, bottom] = part as [number, number, number, number];
  let [sum, area] = [0, 0];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const across = Math.max(0, Math.min(right, x + 1) - Math.max(left, x));
      const down = Math.max(0, Math.min(bottom, y + 1) - Math.max(top, y));
      sum += across * down * rgb[(y * width + x) * 3 + channel]!;
      area += across * down;
    }
  }
  return sum / area;
}

describe('a raster that is brought down', () => {
  it('has in each pixel the mean of what lies under it, parts of pixels counted as such', () => {
    fc.assert(
      fc.property(rasters, resolutions, (raster, ppi) => {
        const small = shrinkRaster(raster, ppi);
        const times = raster.ppi / ppi;
        for (let at = 0; at < small.rgb.length; at++) {
          const [x, y] = [Math.floor(at / 3) % small.width, Math.floor(at / 3 / small.width)];
          const mean = meanOver(raster, at % 3, [x * times, y * times, (x + 1) * times, (y + 1) * times]);
          // half a level of rounding, and what single precision loses
          expect(Math.abs(small.rgb[at]! - mean)).toBeLessThan(0.502);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is itself at its own resolution', () => {
    fc.assert(
      fc.property(rasters, (raster) => {
        expect(shrinkRaster(raster, raster.ppi)).toEqual(raster);
      }),
    );
  });

  it('is at half of it what halving makes, where its sides are even', () => {
    const even = rasters.filter(({ width, height }) => width % 2 === 0 && height % 2 === 0);
    fc.assert(
      fc.property(even, (raster) => {
        expect(shrinkRaster(raster, 50)).toEqual(halveRaster(raster));
      }),
    );
  });

  it('lies where it lay: what is drawn at a place stands at that place of the result', () => {
    const raster: PageRaster = { width: 945, height: 12, ppi: 100, rgb: new Uint8Array(945 * 12 * 3).fill(255) };
    for (let y = 0; y < 12; y++) raster.rgb.fill(0, (y * 945 + 900) * 3, (y * 945 + 904) * 3);
    const { rgb, width } = shrinkRaster(raster, 50.8);
    let [ink, moment] = [0, 0];
    for (let x = 0; x < width; x++) {
      ink += 255 - rgb[x * 3]!;
      moment += (255 - rgb[x * 3]!) * (x + 0.5);
    }
    expect(moment / ink).toBeCloseTo(902 * 0.508, 1);
  });
});
