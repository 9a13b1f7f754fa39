import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { colourInks, GRID_POINTS, gridInks, inkTable } from '../../../src/reading/raster/ink-table.ts';

const level = fc.integer({ min: 0, max: 255 });
const inks = fc.tuple(level, level, level, level).map((four) => Uint8Array.from(four));

/** A table made from a rule for the colour of four inks. */
function tableOf(colour: (c: number, m: number, y: number, k: number) => readonly number[]) {
  const grid = gridInks();
  const rgb = Array.from({ length: GRID_POINTS }, (_, at) => {
    const [c = 0, m = 0, y = 0, k = 0] = grid.subarray(at * 4, at * 4 + 4);
    return colour(c, m, y, k);
  });
  return inkTable(Uint8Array.from(rgb.flat()));
}

const POINTS = Array.from({ length: 17 }, (_, point) => Math.round((point * 255) / 16));

/** The definition, a pixel and a step at a time, in whole numbers of 256 parts. */
function byDefinition(inksOfPixels: Uint8Array, table: Uint8Array): number[] {
  const rgb: number[] = [];
  for (let at = 0; at < inksOfPixels.length; at += 4) {
    const axes = [...inksOfPixels.subarray(at, at + 4)].map((ink, axis) => {
      const below = Math.min(
        15,
        POINTS.findLastIndex((lower) => lower <= ink),
      );
      const [lower = 0, upper = 0] = POINTS.slice(below, below + 2);
      return { below, part: Math.round(((ink - lower) / (upper - lower)) * 256), step: 17 ** (3 - axis) };
    });
    let point = axes.reduce((sum, { below, step }) => sum + below * step, 0);
    const corners = [{ point, part: 256 }];
    for (const { part, step } of axes.sort((one, other) => other.part - one.part)) {
      point += step;
      corners.push({ point, part });
    }
    for (let channel = 0; channel < 3; channel++) {
      const sum = corners.reduce((so, corner, nth) => {
        const weight = corner.part - (corners[nth + 1]?.part ?? 0);
        return so + (weight === 0 ? 0 : weight * table[corner.point * 4 + channel]!);
      }, 128);
      rgb.push(sum >> 8);
    }
  }
  return rgb;
}

describe('colours between the points of an ink table', () => {
  it('are those of the points at the points', () => {
    const table = tableOf((c, m, y, k) => [(c * 7 + k) % 256, (m * 5 + y * 3) % 256, (y + c * 11 + k) % 256]);
    const expected = [];
    const grid = gridInks();
    for (let at = 0; at < GRID_POINTS; at++) {
      const [c = 0, m = 0, y = 0, k = 0] = grid.subarray(at * 4, at * 4 + 4);
      expected.push((c * 7 + k) % 256, (m * 5 + y * 3) % 256, (y + c * 11 + k) % 256);
    }
    expect(Buffer.from(colourInks(grid, table)).equals(Buffer.from(expected))).toBe(true);
  });

  it('follow a rule that is straight along each ink, to one level', () => {
    const table = tableOf((c, m, y, k) => [255 - c, 255 - (m + k) / 2, 255 - (y + k) / 2].map(Math.round));
    fc.assert(
      fc.property(inks, (four) => {
        const [c = 0, m = 0, y = 0, k = 0] = four;
        const expected = [255 - c, 255 - (m + k) / 2, 255 - (y + k) / 2];
        const off = [...colourInks(four, table)].map((found, at) => Math.abs(found - (expected[at] ?? NaN)));
        expect(off.every((levels) => levels <= 1.01)).toBe(true);
      }),
    );
  });

  it('are those of the simplex that the inks lie in, to the last level', () => {
    const table = tableOf((c, m, y, k) => [(c * 7 + k * 3) % 256, (m * y + k) % 256, (y * 13 + c) % 256]);
    fc.assert(
      fc.property(fc.array(level, { minLength: 4, maxLength: 64 }), (levels) => {
        const four = Uint8Array.from(levels.slice(0, levels.length & ~3));
        expect([...colourInks(four, table)]).toEqual(byDefinition(four, table));
      }),
      { numRuns: 500 },
    );
  });

  it('do not depend on which pixels stand beside', () => {
    const table = tableOf((c, m, y, k) => [(c * m) % 256, (y * k) % 256, (c + k) % 256]);
    fc.assert(
      fc.property(inks, inks, (one, other) => {
        const together = colourInks(Uint8Array.from([...one, ...other]), table);
        expect([...together]).toEqual([...colourInks(one, table), ...colourInks(other, table)]);
      }),
    );
  });
});
