import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  countSteps,
  markCells,
  measureMisfit,
  measureSlopes,
  moveCells,
  putCells,
  sumLeftovers,
} from '../../../src/comparing/kernels/cells.ts';
import type { BothSides } from '../../../src/comparing/kernels/cells.ts';
import { randomFrom } from './random-from.ts';

// Every law states the formula in plain numbers of 64 bits and holds the kernel to the last bit of it.

/** Colours all over the room and beyond its ends, the revision mostly near the dummy; a few cells silent. */
const sides: fc.Arbitrary<BothSides> = fc
  .record({
    width: fc.integer({ min: 1, max: 23 }),
    height: fc.integer({ min: 0, max: 9 }),
    seed: fc.integer({ min: 1, max: 2 ** 31 - 2 }),
    spread: fc.constantFrom(0, 2, 30),
  })
  .map(({ width, height, seed, spread }) => sidesOf(width, height, seed, spread));

function sidesOf(width: number, height: number, seed: number, spread: number): BothSides {
  const next = randomFrom(seed);
  const count = width * height;
  const dummy = Float32Array.from({ length: count * 3 }, (_, at) =>
    at % 3 === 0 ? next() * 120 - 10 : next() * 240 - 120,
  );
  const revision = dummy.map((value) => value + (next() - 0.5) * spread);
  return { width, dummy, revision, speaks: Uint8Array.from({ length: count }, () => (next() < 0.15 ? 0 : 1)) };
}

const speaking = ({ speaks }: BothSides): number[] => [...speaks.keys()].filter((cell) => speaks[cell] === 1);
const colourOf = (lab: Float32Array, cell: number): number[] => [...lab.subarray(cell * 3, cell * 3 + 3)];
const stepOf = (place: number, steps: number): number => Math.max(0, Math.min(steps - 1, Math.trunc(place)));

/** Moves every bin by odd numbers of its own. */
const bend = (middles: Float32Array): Float32Array =>
  middles.map((value, at) => value * 0.9 + Math.sqrt(200 + value) - (at % 3));

function expectedMapped({ dummy }: BothSides, cell: number): number[] {
  const [l, a, b] = colourOf(dummy, cell);
  const bin = [stepOf(l! / (100 / 128), 128), stepOf((a! + 96) / 3, 64), stepOf((b! + 96) / 3, 64)];
  const middle = [(bin[0]! + 0.5) * (100 / 128), (bin[1]! + 0.5) * 3 - 96, (bin[2]! + 0.5) * 3 - 96];
  const became = bend(Float32Array.from(middle));
  return middle.map((value, k) => Math.fround([l, a, b][k]! + Math.fround(became[k]! - value)));
}

describe('cells of a picture and its other self', () => {
  it('move as their bin of colours does, which is asked for once', () => {
    fc.assert(
      fc.property(sides, (both) => {
        const cells = putCells(both);
        const asked: string[] = [];
        moveCells(cells, (middles) => {
          for (let at = 0; at < middles.length; at += 3) asked.push(middles.subarray(at, at + 3).join());
          return bend(middles);
        });
        for (const cell of speaking(both)) expect(colourOf(cells.mapped, cell)).toEqual(expectedMapped(both, cell));
        expect(new Set(asked).size).toBe(asked.length);
      }),
    );
  });

  it('add up to the leftovers of their shades, none longer than is allowed', () => {
    fc.assert(
      fc.property(sides, fc.constantFrom(3, 12, 40), (both, most) => {
        const cells = putCells(both);
        moveCells(cells, bend);
        const mapped = cells.mapped.slice();
        const expected = new Float64Array(11 * 16 * 16 * 4);
        const sums = sumLeftovers(cells, most);
        for (const cell of speaking(both)) {
          const [l, a, b] = colourOf(both.dummy, cell);
          const [x, y, z] = [
            stepOf(l! / 10 + 0.5, 11),
            stepOf((a! + 75) / 10 + 0.5, 16),
            stepOf((b! + 75) / 10 + 0.5, 16),
          ];
          const shade = (x * 16 + y) * 16 + z;
          expect(cells.shades[cell]).toBe(shade);
          const own = colourOf(mapped, cell);
          let left = colourOf(both.revision, cell).map((value, k) => value - own[k]!);
          const size = Math.sqrt(left[0]! * left[0]! + left[1]! * left[1]! + left[2]! * left[2]!);
          if (size > most) left = left.map((value) => (value * most) / size);
          [...left, 1].forEach((value, k) => (expected[shade * 4 + k]! += value));
        }
        expect(Buffer.compare(Buffer.from(sums.slice().buffer), Buffer.from(expected.buffer))).toBe(0);
      }),
    );
  });

  it('lie as far off as the distance of their colours says, those at least so far away named one by one', () => {
    fc.assert(
      fc.property(sides, fc.constantFrom(0, 2.5, 20), (both, near) => {
        const cells = putCells(both);
        moveCells(cells, bend);
        sumLeftovers(cells, 12);
        cells.table.forEach((_, at) => (cells.table[at] = (at % 17) / 3 - 2));
        const far: number[] = [];
        measureMisfit(cells, near, (_, cell) => far.push(cell));
        const plain = [...both.speaks.keys()].map((cell) => {
          if (both.speaks[cell] === 0) return 0;
          const shade = cells.shades[cell]! * 3;
          const [l, a, b] = [0, 1, 2].map(
            (k) => both.revision[cell * 3 + k]! - (cells.mapped[cell * 3 + k]! + cells.table[shade + k]!),
          );
          return Math.sqrt(l! * l! + a! * a! + b! * b!);
        });
        expect([...cells.misfit]).toEqual(plain.map(Math.fround));
        expect(far).toEqual(speaking(both).filter((cell) => plain[cell]! >= near));
      }),
    );
  });

  it('are as steep as the largest step to a neighbour within the picture', () => {
    fc.assert(
      fc.property(sides, (both) => {
        const cells = putCells(both);
        measureSlopes(cells, 4);
        const { width, speaks } = both;
        const height = speaks.length / width;
        const largest = (lab: Float32Array, cell: number): number =>
          Math.max(...[-1, 1, -width, width].map((step) => Math.abs(lab[(cell + step) * 3]! - lab[cell * 3]!)));
        const expected = [...speaks.keys()].map((cell) => {
          const [x, y] = [cell % width, Math.floor(cell / width)];
          if (speaks[cell] === 0 || x === 0 || y === 0 || x === width - 1 || y === height - 1) return 0;
          const own = largest(both.dummy, cell);
          return Math.fround(Math.max(own, Math.min(own + 4, largest(both.revision, cell))));
        });
        expect([...cells.slope]).toEqual(expected);
      }),
    );
  });

  it('are counted in steps of an eighth, and marked beyond the limit of their slope', () => {
    const limits = fc.record({
      base: fc.double({ min: 0, max: 3, noNaN: true }),
      perSlope: fc.double({ min: 0, max: 0.5, noNaN: true }),
      times: fc.constant(3.2),
      least: fc.double({ min: 0, max: 12, noNaN: true }),
      weak: fc.constant(0.55),
    });
    fc.assert(
      fc.property(sides, limits, fc.constantFrom(-Infinity, 0.3, 9), (both, limit, steep) => {
        const cells = putCells(both);
        measureSlopes(cells, 4);
        cells.misfit.forEach((_, cell) => (cells.misfit[cell] = Math.abs(both.revision[cell * 3]!) * 1.3));
        const histogram = new Uint32Array(513);
        for (const cell of speaking(both)) {
          if (cells.slope[cell]! >= steep) histogram[Math.min(512, Math.trunc(cells.misfit[cell]! * 8))]!++;
        }
        expect([...countSteps(cells, 'misfit', steep)]).toEqual([...histogram]);
        const expected = [...both.speaks.keys()].map((cell) => {
          if (both.speaks[cell] === 0) return 0;
          const most = Math.max(limit.least, 3.2 * (limit.base + limit.perSlope * cells.slope[cell]!));
          return cells.misfit[cell]! > most ? 2 : cells.misfit[cell]! > 0.55 * most ? 1 : 0;
        });
        const { marks, strong } = markCells(cells, limit);
        expect([...marks]).toEqual(expected);
        expect(strong).toBe(expected.filter((mark) => mark === 2).length);
      }),
    );
  });

  it('go on beyond the piece that is looked at in one go', () => {
    const both = sidesOf(241, 103, 7, 9);
    const cells = putCells(both);
    moveCells(cells, bend);
    sumLeftovers(cells, 12);
    measureMisfit(cells, 0, () => undefined);
    for (const cell of [0, 8191, 8192, 241 * 103 - 1].filter((at) => both.speaks[at] === 1)) {
      expect(colourOf(cells.mapped, cell)).toEqual(expectedMapped(both, cell));
    }
    expect(countSteps(cells, 'misfit', -Infinity).reduce((sum, bin) => sum + bin, 0)).toBe(speaking(both).length);
  });

  it('are not looked at any more once others were put in their place', () => {
    const cells = putCells(sidesOf(4, 4, 1, 2));
    putCells(sidesOf(5, 5, 2, 2));
    expect(() => measureSlopes(cells, 4)).toThrow('left');
  });
});
