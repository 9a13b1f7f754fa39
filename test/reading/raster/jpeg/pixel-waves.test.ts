import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pixelWaves } from '../../../../src/reading/raster/jpeg/pixel-waves.ts';
import { shiftOfWave, waves } from '../wave-strip.ts';

const [SIDE, KEPT] = [8, 4];

/** Half of a row of samples, by the slow waves of its blocks (ITU-T T.81, A.3.3, from memory), the last sample going on. */
function halved(samples: readonly number[], pixels: number): number[] {
  const { starts, weights } = pixelWaves(samples.length, pixels);
  const row = new Array<number>(pixels);
  for (const [block, start] of starts.entries()) {
    for (let pixel = start; pixel < (starts[block + 1] ?? pixels); pixel++) {
      row[pixel] = 0;
      for (let wave = 0; wave < KEPT; wave++) {
        row[pixel]! += coefficient(samples, block, wave) * weights[(block * KEPT + wave) * KEPT + pixel - start]!;
      }
    }
  }
  return row;
}

function coefficient(samples: readonly number[], block: number, wave: number): number {
  let sum = 0;
  for (let x = 0; x < SIDE; x++) {
    const sample = samples[block * SIDE + x] ?? samples.at(-1)!;
    sum += sample * Math.cos(((x + 0.5) * wave * Math.PI) / SIDE);
  }
  return sum * Math.sqrt((wave === 0 ? 1 : 2) / SIDE);
}

/** Any number of samples with half of it, rounded up or down. */
const sizes = fc
  .record({ samples: fc.integer({ min: 2, max: 5000 }), up: fc.boolean() })
  .map(({ samples, up }) => ({ samples, pixels: up ? Math.ceil(samples / 2) : Math.floor(samples / 2) }));

describe('the waves of blocks in half as many pixels', () => {
  it.each([4000, 1200])('are in their place, of %i samples', (samples) => {
    const row = halved([...waves(samples, 1, 1)], samples / 2);
    for (const wave of [1, 18, 35]) expect(Math.abs(shiftOfWave(row, wave))).toBeLessThan(0.03);
  });

  // A pixel that lies across two blocks is of one of them alone, which is as if half a sample were missing: of four pixels
  // it is one at most, so that they are an eighth of a sample off in the mean, a sixteenth of a pixel. The samples are whole
  // levels, which moves the waves by as much as a hundredth.
  it.each([
    [4001, 2001],
    [4001, 2000],
  ])('are in their place in the first half of %i samples in %i pixels, and nearly at the end', (samples, pixels) => {
    const row = halved([...waves(samples, 1, 1)], pixels);
    const shifts = [1, 18, 35].map((wave) => Math.abs(shiftOfWave(row, wave)));
    expect(shifts[0]).toBeLessThan(0.03);
    expect(shifts[1]).toBeLessThan(0.03);
    expect(shifts[2]).toBeLessThan(1 / 16 + 0.01);
  });

  it('rise as steadily as the samples do, to a tenth of one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), (blocks) => {
        const row = halved(
          Array.from({ length: blocks * SIDE }, (_, x) => x + 0.5),
          blocks * KEPT,
        );
        const off = row.map((level, pixel) => Math.abs(level - (2 * pixel + 1)));
        expect(Math.max(...off)).toBeLessThan(0.1);
      }),
      { numRuns: 30 },
    );
  });

  it('leave a plain row as it is, whatever its length: the mean counts as one', () => {
    fc.assert(
      fc.property(sizes, fc.integer({ min: 1, max: 255 }), ({ samples, pixels }, level) => {
        const row = halved(new Array<number>(samples).fill(level), pixels);
        // weights are numbers of 32 bits: a part in 2^24 of each
        expect(Math.max(...row.map((found) => Math.abs(found / level - 1)))).toBeLessThan(1e-6);
      }),
      { numRuns: 50 },
    );
  });

  it('are of the block that the middle of each pixel lies in, four pixels each at most', () => {
    fc.assert(
      fc.property(sizes, ({ samples, pixels }) => {
        const { starts } = pixelWaves(samples, pixels);
        const blockOf = (pixel: number): number => Math.floor(((2 * pixel + 1) * samples) / (2 * pixels * SIDE));
        const all = Array.from({ length: pixels }, (_, pixel) => blockOf(pixel));
        const counts = Array.from({ length: Math.ceil(samples / SIDE) }, () => 0);
        for (const block of all) counts[block]! += 1;
        const ends = counts.map((_, block) => counts.slice(0, block + 1).reduce((sum, count) => sum + count, 0));
        expect([...starts]).toEqual(ends.map((end, block) => end - counts[block]!));
        expect(Math.max(...counts)).toBeLessThanOrEqual(KEPT);
      }),
      { numRuns: 50 },
    );
  });
});
