import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halfWaves } from '../../../../src/reading/raster/jpeg/half-waves.ts';
import { shiftOfWave, waves } from '../wave-strip.ts';

const [SIDE, KEPT] = [8, 4];

/** A wave of a block at its samples. Source: ITU-T T.81, A.3.3, from memory. */
const waveAt = (wave: number, sample: number): number =>
  Math.sqrt((wave === 0 ? 1 : 2) / SIDE) * Math.cos(((sample + 0.5) * wave * Math.PI) / SIDE);

/** Half of a row, by the slow waves of its blocks; behind its end are other samples, or its last one again. */
function halved(row: readonly number[], behind: readonly number[] = []): number[] {
  const { inner, last } = halfWaves(row.length);
  const blocks = Math.ceil(row.length / SIDE);
  const pixels = Array.from({ length: blocks * KEPT }, (_, at) => {
    const [block, pixel] = [Math.floor(at / KEPT), at % KEPT];
    const samples = Array.from({ length: SIDE }, (__, x) => {
      const place = block * SIDE + x;
      return row[place] ?? behind[place - row.length] ?? row.at(-1)!;
    });
    const weights = block === blocks - 1 ? last : inner;
    let level = 0;
    for (let wave = 0; wave < KEPT; wave++) {
      const height = samples.reduce((sum, sample, x) => sum + sample * waveAt(wave, x), 0);
      level += height * weights[wave * KEPT + pixel]!;
    }
    return level;
  });
  return pixels.slice(0, Math.ceil(row.length / 2));
}

/** What pixels are of samples: the mean of two, and of the last of an odd number that one. */
function meansOfTwo(row: readonly number[]): number[] {
  return Array.from({ length: Math.ceil(row.length / 2) }, (_, at) => {
    const two = row.slice(2 * at, 2 * at + 2);
    return two.reduce((sum, sample) => sum + sample, 0) / two.length;
  });
}

const farthest = (some: readonly number[], others: readonly number[]): number =>
  Math.max(...some.map((level, at) => Math.abs(level - others[at]!)));

/** Weights are numbers of 32 bits: a part in 2^24 of each, of four levels of some hundreds. */
const ROUNDED = 1e-3;
const heights = fc.array(fc.integer({ min: -500, max: 500 }), { minLength: KEPT, maxLength: KEPT });
/** A block that is slow waves and nothing else. */
const blockOf = (four: readonly number[]): number[] =>
  Array.from({ length: SIDE }, (_, x) => four.reduce((sum, height, wave) => sum + height * waveAt(wave, x), 0));

describe('the waves of blocks in half as many pixels', () => {
  it.each([4000, 4001, 4003, 1200, 1201])('are in their place from end to end, of %i samples', (samples) => {
    const row = halved([...waves(samples, 1, 1)]);
    for (const wave of [1, 18, 35]) expect(Math.abs(shiftOfWave(row, wave, samples / 2))).toBeLessThan(0.03);
  });

  it('rise as steadily as the samples do, to a tenth of one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), (blocks) => {
        const row = halved(Array.from({ length: blocks * SIDE }, (_, x) => x + 0.5));
        const off = row.map((level, pixel) => Math.abs(level - (2 * pixel + 1)));
        expect(Math.max(...off)).toBeLessThan(0.1);
      }),
      { numRuns: 30 },
    );
  });

  it('leave a plain row as it is, whatever its length: the mean counts as one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 255 }), (samples, level) => {
        const row = halved(new Array<number>(samples).fill(level));
        expect(row.length).toBe(Math.ceil(samples / 2));
        // weights are numbers of 32 bits: a part in 2^24 of each
        expect(Math.max(...row.map((found) => Math.abs(found / level - 1)))).toBeLessThan(1e-6);
      }),
      { numRuns: 50 },
    );
    for (let samples = 1; samples <= 16; samples++) {
      const { inner, last } = halfWaves(samples);
      // a plain level is the square root of eight as much in the first wave
      const means = [inner, last].map((weights) => [...weights.subarray(0, KEPT)].map((one) => one * Math.sqrt(SIDE)));
      for (const mean of means.flat()) expect(mean).toBeCloseTo(1, 6);
    }
  });

  it('are the mean of two samples each, and of an odd number the one that is inside', () => {
    fc.assert(
      fc.property(heights, heights, fc.integer({ min: 1, max: SIDE }), (first, second, inside) => {
        const blocks = [...blockOf(first), ...blockOf(second)];
        const [row, behind] = [blocks.slice(0, SIDE + inside), blocks.slice(SIDE + inside)];
        expect(farthest(halved(row, behind), meansOfTwo(row))).toBeLessThan(ROUNDED);
      }),
      { numRuns: 200 },
    );
  });

  // Of what four waves can hold, this is nothing at the samples inside: cosines of the slow waves are powers of the first one's.
  it.each([1, 3])('do not show what lies behind an odd end, %i samples into a block', (inside) => {
    const cosine = (x: number): number => waveAt(1, x) * 2;
    fc.assert(
      fc.property(heights, fc.integer({ min: 100, max: 1000 }), (four, size) => {
        const block = blockOf(four);
        const others = block.map((sample, x) => {
          const zeros = Array.from({ length: inside }, (_, at) => cosine(x) - cosine(at));
          return sample + zeros.reduce((product, factor) => product * factor, size);
        });
        const row = block.slice(0, inside);
        expect(farthest(row, others.slice(0, inside))).toBe(0);
        expect(farthest(block.slice(inside), others.slice(inside))).toBeGreaterThan(100);
        const [one, other] = [halved(row, block.slice(inside)), halved(row, others.slice(inside))];
        expect(farthest(one, other)).toBeLessThan(ROUNDED);
      }),
      { numRuns: 50 },
    );
  });
});
