import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ColourField } from '../../../src/comparing/page-colours.ts';
import { layOver } from '../../../src/comparing/pictures/lay-over.ts';
import type { Affine } from '../../../src/comparing/registration/similarity.ts';
import { affineOf } from '../../../src/comparing/registration/similarity.ts';
import { similarityFor } from '../made-up-scenes.ts';

/** A field whose colours are formulas of the place on the page, so that reading between cells is exact. */
function field(left: number, top: number, width: number, height: number): ColourField {
  const lab = new Float32Array(width * height * 3);
  for (let cell = 0; cell < width * height; cell++) {
    const [x, y] = [left + (cell % width) + 0.5, top + Math.floor(cell / width) + 0.5];
    lab.set([x, y, x - 2 * y], cell * 3);
  }
  return { left, top, width, height, ppi: 25.4, lab };
}

const STILL: Affine = [1, 0, 0, 1, 0, 0];
const cellOf = ({ revision }: { revision: Float32Array }, cell: number) => [
  ...revision.subarray(cell * 3, cell * 3 + 3),
];

describe('a picture laid over its other self', () => {
  it('that did not move is read cell by cell', () => {
    const dummy = field(10, 20, 6, 4);
    const { revision, ...rest } = layOver({ dummy, revision: field(10, 20, 6, 4) }, STILL, null);
    expect(rest).toEqual({ width: 6, height: 4, dummy: dummy.lab, speaks: new Uint8Array(24).fill(1) });
    // Cells of the last row and column are read a thousandth of a cell early.
    revision.forEach((value, at) => expect(value).toBeCloseTo(dummy.lab[at]!, 2));
  });

  it('is read where the map says, between cells too', () => {
    const map = similarityFor({ centreX: 30, centreY: 30, scale: 1.3, turnDeg: 20, shiftX: 2.2, shiftY: -1.4 });
    const [a, b, c, d, e, f] = affineOf(map);
    const dummy = field(25, 25, 10, 10);
    const laid = layOver({ dummy, revision: field(5, 5, 50, 50) }, [a, b, c, d, e, f], null);
    expect([...laid.speaks]).toEqual(new Array<number>(100).fill(1));
    for (let cell = 0; cell < 100; cell++) {
      const [x, y] = [25.5 + (cell % 10), 25.5 + Math.floor(cell / 10)];
      const [u, v] = [a * x + c * y + e, b * x + d * y + f];
      const read = cellOf(laid, cell);
      [u, v, u - 2 * v].forEach((value, at) => expect(read[at]).toBeCloseTo(value, 3));
    }
  });

  it('speaks only where both sides show picture', () => {
    const laid = layOver({ dummy: field(0, 0, 5, 2), revision: field(0, 0, 5, 2) }, [1, 0, 0, 1, 2, 0], null);
    expect([...laid.speaks]).toEqual([1, 1, 1, 0, 0, 1, 1, 1, 0, 0]);
    expect(cellOf(laid, 0)).toEqual([2.5, 0.5, 1.5]);
    expect(cellOf(laid, 4)).toEqual([0, 0, 0]);
  });

  it('is silent where something covers it', () => {
    const covered = Uint8Array.from([1, 0, 1, 0]);
    const laid = layOver({ dummy: field(0, 0, 4, 1), revision: field(0, 0, 4, 1) }, STILL, covered);
    expect(laid.speaks).toEqual(covered);
  });

  it('reads the edge cell for the half cell beyond its middle, and nothing further', () => {
    const fields = { dummy: field(0, 0, 3, 1), revision: field(0, 0, 3, 1) };
    expect([...layOver(fields, [1, 0, 0, 1, 0.4, 0], null).speaks]).toEqual([1, 1, 1]);
    expect([...layOver(fields, [1, 0, 0, 1, 0.6, 0], null).speaks]).toEqual([1, 1, 0]);
  });

  it('is never read outside the field, wherever the map leads', () => {
    const shift = fc.double({ min: -200, max: 200, noNaN: true });
    const scale = fc.double({ min: 0.01, max: 50, noNaN: true });
    fc.assert(
      fc.property(
        scale,
        fc.double({ min: -180, max: 180, noNaN: true }),
        shift,
        shift,
        (size, turnDeg, shiftX, shiftY) => {
          const map = affineOf(similarityFor({ centreX: 4, centreY: 4, scale: size, turnDeg, shiftX, shiftY }));
          const laid = layOver({ dummy: field(0, 0, 8, 8), revision: field(0, 0, 8, 8) }, map, null);
          expect(laid.revision.every((value) => Number.isFinite(value))).toBe(true);
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
  });
});
