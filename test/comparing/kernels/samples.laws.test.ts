import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  accumulate,
  applyCurve,
  countResiduals,
  putSamples,
  readPlane,
  sumKnots,
  sumProducts,
  sumTones,
  weighResiduals,
} from '../../../src/comparing/kernels/samples.ts';
import type { Places, ReadPlane, Samples } from '../../../src/comparing/kernels/samples.ts';
import { randomFrom } from './random-from.ts';

// Every law states the formula in plain numbers of 64 bits and holds the kernel to the last bit of it.

interface Given {
  readonly plane: ReadPlane;
  readonly places: Places;
  readonly map: readonly [number, number, number, number, number, number];
}

/** Planes of all small sizes, samples on them and beside them, maps near to standing still. */
const given: fc.Arbitrary<Given> = fc
  .record({
    width: fc.integer({ min: 1, max: 19 }),
    height: fc.integer({ min: 1, max: 13 }),
    count: fc.integer({ min: 0, max: 70 }),
    seed: fc.integer({ min: 1, max: 2 ** 31 - 2 }),
  })
  .map(({ width, height, count, seed }) => {
    const next = randomFrom(seed);
    const near = (most: number): number => (next() - 0.5) * 2 * most;
    const many = (of: () => number): Float32Array => Float32Array.from({ length: count }, of);
    const plane = {
      left: Math.floor(near(5)),
      top: Math.floor(near(5)),
      width,
      height,
      data: new Float32Array(width * height),
    };
    plane.data.forEach((_, at) => (plane.data[at] = next() * 255));
    return {
      plane,
      places: {
        x: many(() => plane.left + next() * (width + 2) - 1),
        y: many(() => plane.top + next() * (height + 2) - 1),
        level: many(() => next() * 255),
      },
      map: [1 + near(0.05), near(0.05), near(0.05), 1 + near(0.05), near(1), near(1)],
    };
  });

function slopesAt({ width, height, data }: ReadPlane, column: number, row: number): [number, number] {
  if (column === 0 || row === 0 || column === width - 1 || row === height - 1) return [0, 0];
  const at = (x: number, y: number): number => data[y * width + x]!;
  return [
    Math.fround((at(column + 1, row) - at(column - 1, row)) / 2),
    Math.fround((at(column, row + 1) - at(column, row - 1)) / 2),
  ];
}

/** Level and both slopes where the map says, or null beside the plane. */
function readAt({ plane, places, map: [a, b, c, d, e, f] }: Given, sample: number): [number, number, number] | null {
  const [x, y] = [places.x[sample]!, places.y[sample]!];
  const u = a * x + c * y + e - plane.left - 0.5;
  const v = b * x + d * y + f - plane.top - 0.5;
  if (u < 0 || v < 0 || u >= plane.width - 1 || v >= plane.height - 1) return null;
  const [column, row] = [Math.floor(u), Math.floor(v)];
  const [p, q] = [u - column, v - row];
  const between = (of: (x: number, y: number) => number): number =>
    Math.fround(
      (1 - p) * (1 - q) * of(column, row) +
        p * (1 - q) * of(column + 1, row) +
        (1 - p) * q * of(column, row + 1) +
        p * q * of(column + 1, row + 1),
    );
  return [
    between((x1, y1) => plane.data[y1 * plane.width + x1]!),
    between((x1, y1) => slopesAt(plane, x1, y1)[0]),
    between((x1, y1) => slopesAt(plane, x1, y1)[1]),
  ];
}

/** Samples that were read, with some of the weights that come of it. */
function readOf({ plane, places, map }: Given): Samples {
  const samples = putSamples(places, plane);
  readPlane(samples, map);
  samples.weights.forEach((weight, at) => (samples.weights[at] = at % 5 === 0 ? 0 : weight * (1 / (1 + (at % 7)))));
  samples.fitted.forEach((_, at) => (samples.fitted[at] = samples.seen[at]! + ((at * 37) % 61) - 30.3));
  return samples;
}

const numbersOf = ({ count }: Samples): number[] => Array.from({ length: count }, (_, at) => at);

describe('samples of a plane', () => {
  it('are read with the slopes of the plane where the map says, and have no weight beside it', () => {
    let [read, missed] = [0, 0];
    fc.assert(
      fc.property(given, (one) => {
        const samples = putSamples(one.places, one.plane);
        const found = readPlane(samples, one.map);
        const expected = numbersOf(samples).map((at) => readAt(one, at));
        expect([...samples.inside]).toEqual(expected.map((at) => (at === null ? 0 : 1)));
        expect([...samples.weights]).toEqual([...samples.inside]);
        expect([...samples.seen]).toEqual(expected.map((at) => at?.[0] ?? 0));
        for (const [at, value] of expected.entries()) {
          if (value !== null) expect([...samples.slopes.subarray(at * 2, at * 2 + 2)]).toEqual(value.slice(1));
        }
        expect(found).toBe(expected.filter((at) => at !== null).length);
        read += found;
        missed += samples.count - found;
      }),
      { numRuns: 300 },
    );
    expect(Math.min(read, missed)).toBeGreaterThan(1000);
  });

  it('keep the weight that they were given until they leave the plane', () => {
    const plane = { left: 0, top: 0, width: 4, height: 4, data: new Float32Array(16) };
    const samples = putSamples(
      { x: Float32Array.of(2, 9), y: Float32Array.of(2, 2), level: new Float32Array(2) },
      plane,
    );
    samples.weights.fill(0.25);
    readPlane(samples, [1, 0, 0, 1, 0, 0]);
    expect([...samples.weights]).toEqual([0.25, 0]);
  });

  it('add up to the sums of a tone curve', () => {
    fc.assert(
      fc.property(given, fc.double({ min: -3, max: 3, noNaN: true }), (one, slope) => {
        const samples = readOf(one);
        const [mass, knots] = [new Float64Array(17), new Float64Array(17)];
        const expected = [0, 0, 0, 0, 0];
        for (const at of numbersOf(samples)) {
          const [w, x, y] = [samples.weights[at]!, samples.level[at]!, samples.seen[at]!];
          if (w === 0) continue;
          const knot = Math.round(x / 16);
          mass[knot]! += w;
          knots[knot]! += w * (y - slope * (x - knot * 16));
          [w, w * x, w * y, w * x * x, w * x * y].forEach((value, k) => (expected[k]! += value));
        }
        const tones = sumTones(samples);
        expect([...tones.mass]).toEqual([...mass]);
        expect(tones.sums).toEqual(expected);
        expect([...sumKnots(samples, slope)]).toEqual([...knots]);
      }),
    );
  });

  it('are fitted along a curve, straight between its knots and beyond', () => {
    fc.assert(
      fc.property(given, (one) => {
        const samples = readOf(one);
        samples.level.forEach((level, at) => (samples.level[at] = level * 1.4 - 40));
        const curve = Float64Array.from({ length: 17 }, (_, knot) => ((knot * 83) % 251) + knot / 3);
        applyCurve(samples, curve);
        const expected = Array.from(samples.level, (level) => {
          const knot = Math.max(0, Math.min(15, Math.floor(level / 16)));
          const part = level / 16 - knot;
          return Math.fround(curve[knot]! * (1 - part) + curve[knot + 1]! * part);
        });
        expect([...samples.fitted]).toEqual(expected);
      }),
    );
  });

  it('are counted and weighed by their residuals', () => {
    fc.assert(
      fc.property(given, fc.double({ min: 0.5, max: 60, noNaN: true }), (one, reach) => {
        const samples = readOf(one);
        samples.fitted.forEach((level, at) => (samples.fitted[at] = at % 11 === 0 ? level + 400 : level));
        const residuals = numbersOf(samples).map((at) => samples.seen[at]! - samples.fitted[at]!);
        const inside = numbersOf(samples).filter((at) => samples.inside[at] === 1);
        const expected = new Uint32Array(1024);
        for (const at of inside) expected[Math.min(1023, Math.floor(Math.abs(residuals[at]!) * 4))]!++;
        const { histogram, found } = countResiduals(samples);
        expect(found).toBe(inside.length);
        expect([...histogram]).toEqual([...expected]);
        weighResiduals(samples, reach);
        const weights = residuals.map((residual, at) => {
          const w = 1 - (residual / reach) * (residual / reach);
          return samples.inside[at] === 0 || w <= 0 ? 0 : Math.fround(w * w);
        });
        expect([...samples.weights]).toEqual(weights);
      }),
    );
  });

  it('add up to the normal equations of a map and its tones', () => {
    fc.assert(
      fc.property(given, fc.double({ min: 1, max: 30, noNaN: true }), (one, radius) => {
        const samples = readOf(one);
        const [a, b, c, d] = one.map;
        const about = { map: [a, b, c, d] as const, centreX: 3.3, centreY: -1.7, radius };
        const [normal, right] = [new Float64Array(36), new Float64Array(6)];
        let [energy, mass] = [0, 0];
        for (const at of numbersOf(samples)) {
          const w = samples.weights[at]!;
          if (w === 0) continue;
          const [px, py] = [samples.x[at]! - about.centreX, samples.y[at]! - about.centreY];
          const [qx, qy] = [(a * px + c * py) / radius, (b * px + d * py) / radius];
          const [dx, dy] = [samples.slopes[at * 2]!, samples.slopes[at * 2 + 1]!];
          const row = [dx, dy, dx * qx + dy * qy, dy * qx - dx * qy, (samples.fitted[at]! - 128) / 64, 1];
          const residual = samples.fitted[at]! - samples.seen[at]!;
          energy += w * residual * residual;
          mass += w;
          row.forEach((own, j) => {
            right[j]! += w * own * residual;
            for (let k = 0; k <= j; k++) normal[j * 6 + k]! += w * own * row[k]!;
          });
        }
        const found = accumulate(samples, about);
        const lower = (matrix: Float64Array): number[] => [...matrix].filter((_, at) => at % 6 <= Math.floor(at / 6));
        expect(lower(found.normal)).toEqual(lower(normal));
        expect([...found.right]).toEqual([...right]);
        expect([found.energy, found.mass]).toEqual([energy, mass]);
      }),
    );
  });

  it('add up to the products of a correlation', () => {
    fc.assert(
      fc.property(given, (one) => {
        const samples = readOf(one);
        const expected = [0, 0, 0, 0, 0, 0];
        for (const at of numbersOf(samples).filter((sample) => samples.inside[sample] === 1)) {
          const [x, y] = [samples.seen[at]!, samples.fitted[at]!];
          [1, x, y, x * x, y * y, x * y].forEach((value, k) => (expected[k]! += value));
        }
        expect(sumProducts(samples)).toEqual(expected);
      }),
    );
  });

  it('of another plane see that one, and the first no longer', () => {
    const plane = (level: number): ReadPlane => ({
      ...{ left: 0, top: 0, width: 300, height: 300 },
      data: new Float32Array(90_000).fill(level),
    });
    const places = { x: Float32Array.of(150), y: Float32Array.of(150), level: Float32Array.of(0) };
    const first = putSamples(places, plane(9));
    const second = putSamples(places, plane(70));
    readPlane(second, [1, 0, 0, 1, 0, 0]);
    expect([...second.seen]).toEqual([70]);
    expect(() => readPlane(first, [1, 0, 0, 1, 0, 0])).toThrow('left');
  });
});
