import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labByTables, pickCells, readField } from '../../../src/comparing/kernels/fields.ts';
import type { Field } from '../../../src/comparing/kernels/fields.ts';
import { randomFrom } from './random-from.ts';

// Every law states the formula in plain numbers of 64 bits and holds the kernel to the last bit of it.

const seed = fc.integer({ min: 1, max: 2 ** 31 - 2 });

describe('bytes of sRGB', () => {
  it('become colours by the tables that are given', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), seed, (pixels, from) => {
        const next = randomFrom(from);
        const rgb = Uint8Array.from({ length: pixels * 3 }, () => next() * 256);
        const linear = Float64Array.from({ length: 256 }, () => next() * 100);
        const weights = Float64Array.from({ length: 9 }, () => next() / 3);
        const compressed = Float32Array.from({ length: 102 }, next);
        const out = new Float32Array(rgb.length);
        labByTables(rgb, { linear, weights, compressed }, out);
        const expected = Array.from({ length: pixels }, (_, pixel) => {
          const [red, green, blue] = [0, 1, 2].map((k) => linear[rgb[pixel * 3 + k]!]!);
          const [x, y, z] = [0, 3, 6].map((k) => {
            const at = weights[k]! * red! + weights[k + 1]! * green! + weights[k + 2]! * blue!;
            const step = Math.floor(at);
            return compressed[step]! + (compressed[step + 1]! - compressed[step]!) * (at - step);
          });
          return [116 * y! - 16, 500 * (x! - y!), 200 * (y! - z!)].map(Math.fround);
        });
        expect([...out]).toEqual(expected.flat());
      }),
    );
  });

  it('more than are taken in one go become colours all the same', () => {
    const rgb = Uint8Array.from({ length: 3 * 9001 }, (_, at) => (at * 7) % 256);
    const linear = Float64Array.from({ length: 256 }, (_, level) => level);
    const tables = {
      linear,
      weights: new Float64Array(9).fill(0.3),
      compressed: new Float32Array(256).map((_, at) => at),
    };
    const out = new Float32Array(rgb.length);
    labByTables(rgb, tables, out);
    const one = new Float32Array(3);
    for (const pixel of [0, 4095, 4096, 9000]) {
      labByTables(rgb.subarray(pixel * 3, pixel * 3 + 3), tables, one);
      expect([...out.subarray(pixel * 3, pixel * 3 + 3)]).toEqual([...one]);
    }
  });
});

interface Reading {
  readonly field: Field;
  readonly cells: Omit<Field, 'lab'>;
  readonly map: readonly [number, number, number, number, number, number];
  readonly speaks: Uint8Array | null;
}

const side = fc.integer({ min: 1, max: 17 });
const reading: fc.Arbitrary<Reading> = fc
  .record({ sizes: fc.tuple(side, side, side, side), from: seed, covered: fc.boolean() })
  .map(({ sizes: [across, down, width, height], from, covered }) => {
    const next = randomFrom(from);
    const near = (most: number): number => (next() - 0.5) * 2 * most;
    const lab = Float32Array.from({ length: across * down * 3 }, () => near(100));
    const [left, top] = [Math.floor(near(9)), Math.floor(near(9))];
    return {
      field: { left, top, width: across, height: down, lab },
      cells: { left: left + Math.floor(near(3)), top: top + Math.floor(near(3)), width, height },
      map: [1 + near(0.4), near(0.3), near(0.3), 1 + near(0.4), near(3), near(3)],
      speaks: covered ? Uint8Array.from({ length: width * height }, () => (next() < 0.2 ? 0 : 1)) : null,
    };
  });

/** L*, a*, b* at a cell of the others, or null outside. */
function readAt({ field, cells, map: [a, b, c, d, e, f] }: Reading, cell: number): number[] | null {
  const { width, height, lab } = field;
  const [x, y] = [cells.left + (cell % cells.width) + 0.5, cells.top + Math.floor(cell / cells.width) + 0.5];
  const u = a * x + c * y + e - field.left - 0.5;
  const v = b * x + d * y + f - field.top - 0.5;
  if (u < -0.5 || v < -0.5 || u > width - 0.5 || v > height - 0.5) return null;
  const [inX, inY] = [Math.max(0, Math.min(width - 1.001, u)), Math.max(0, Math.min(height - 1.001, v))];
  const [left, top] = [Math.floor(inX), Math.floor(inY)];
  const [p, q] = [inX - left, inY - top];
  const [right, below] = [Math.min(width - 1, left + 1), Math.min(height - 1, top + 1)];
  const at = (column: number, row: number, k: number): number => lab[(row * width + column) * 3 + k]!;
  return [0, 1, 2].map((k) =>
    Math.fround(
      (1 - p) * (1 - q) * at(left, top, k) +
        p * (1 - q) * at(right, top, k) +
        (1 - p) * q * at(left, below, k) +
        p * q * at(right, below, k),
    ),
  );
}

describe('a field of colours', () => {
  it('is read where the map says, between its cells too, and nowhere else', () => {
    let [read, missed] = [0, 0];
    fc.assert(
      fc.property(reading, (one) => {
        const { lab, inside } = readField(one.field, one.cells, one.map, one.speaks);
        const expected = Array.from({ length: inside.length }, (_, cell) =>
          one.speaks?.[cell] === 0 ? null : readAt(one, cell),
        );
        expect([...inside]).toEqual(expected.map((colour) => (colour === null ? 0 : 1)));
        expect([...lab]).toEqual(expected.flatMap((colour) => colour ?? [0, 0, 0]));
        read += expected.filter((colour) => colour !== null).length;
        missed += expected.filter((colour) => colour === null).length;
      }),
      { numRuns: 300 },
    );
    expect(Math.min(read, missed)).toBeGreaterThan(1000);
  });

  it('of no cells is read as none', () => {
    const field = { left: 0, top: 0, width: 2, height: 1, lab: new Float32Array(6) };
    const { lab, inside } = readField(field, { left: 0, top: 0, width: 4, height: 0 }, [1, 0, 0, 1, 0, 0], null);
    expect([lab.length, inside.length]).toEqual([0, 0]);
  });
});

describe('cells that speak', () => {
  it('are picked one in so many, the first of them always', () => {
    const cells = fc.array(fc.constantFrom(0, 1, 1), { maxLength: 90 });
    fc.assert(
      fc.property(cells, fc.integer({ min: 1, max: 7 }), (speaks, stride) => {
        const numbers = [...speaks.keys()].filter((cell) => speaks[cell] === 1);
        const expected = numbers.filter((_, nth) => nth % stride === 0);
        expect([...pickCells(Uint8Array.from(speaks), stride)]).toEqual(expected);
      }),
    );
  });
});
