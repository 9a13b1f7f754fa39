import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { growBox, mostlyCovered, uncovered } from '../../../src/comparing/regions/cover.ts';

/** One pixel for each mm. */
const PPI = 25.4;
const pictured = (mask: Uint8Array, width: number) =>
  Array.from({ length: mask.length / width }, (_, row) =>
    [...mask.subarray(row * width, (row + 1) * width)].map((value) => (value === 1 ? '.' : '#')).join(''),
  );

describe('a box with a margin', () => {
  it('is larger on every side', () => {
    expect(growBox({ x: 10, y: 20, width: 5, height: 6 }, 2)).toEqual({ x: 8, y: 18, width: 9, height: 10 });
  });

  it('grown and shrunk again is the box it was', () => {
    const side = fc.integer({ min: -100, max: 100 });
    fc.assert(
      fc.property(side, side, side, side, side, (x, y, width, height, margin) => {
        const box = { x, y, width, height };
        expect(growBox(growBox(box, margin), -margin)).toEqual(box);
      }),
      { seed: 20261125 },
    );
  });
});

describe('what of an area is left open', () => {
  it('is every pixel that no box touches', () => {
    const area = { left: 10, top: 20, width: 8, height: 5 };
    const boxes = [
      { x: 11.5, y: 21.2, width: 2, height: 1.5 },
      { x: 16.2, y: 24.2, width: 50, height: 50 },
      { x: 0, y: 0, width: 3, height: 3 },
    ];
    expect(pictured(uncovered(area, PPI, boxes), 8)).toEqual([
      '........', //
      '.###....',
      '.###....',
      '........',
      '......##',
    ]);
  });

  it('is all of it without boxes, and nothing of it under a box over everything', () => {
    const area = { left: 3, top: 3, width: 4, height: 2 };
    expect(uncovered(area, PPI, [])).toEqual(new Uint8Array(8).fill(1));
    expect(uncovered(area, PPI, [{ x: -10, y: -10, width: 100, height: 100 }])).toEqual(new Uint8Array(8));
  });

  it('counts boxes in millimetres and the area in pixels of the drawing', () => {
    const area = { left: 0, top: 0, width: 10, height: 1 };
    // At 100 ppi a millimetre is 3.94 pixels: from 0.5 to 1.5 mm are pixels 1 to 5.
    expect(pictured(uncovered(area, 100, [{ x: 0.5, y: 0, width: 1, height: 1 }]), 10)).toEqual(['.#####....']);
  });
});

describe('an area under type and other pictures', () => {
  it.each([
    ['nine tenths and more covered is not worth judging', 9, true],
    ['with a tenth open is judged', 10, false],
    ['wholly open is judged', 100, false],
  ] as const)('%s', (_, open, covered) => {
    expect(mostlyCovered(Uint8Array.from({ length: 100 }, (_value, at) => (at < open ? 1 : 0)))).toBe(covered);
  });
});

describe('what is left open, by a plain twin', () => {
  const side = fc.integer({ min: -20, max: 40 });
  const boxes = fc.array(
    fc.record({ x: side, y: side, width: fc.integer({ min: 0, max: 25 }), height: fc.integer({ min: 0, max: 25 }) }),
    { maxLength: 4 },
  );

  it('is every pixel whose middle lies under none of the boxes, where these end between pixels', () => {
    fc.assert(
      fc.property(boxes, side, side, (whole, left, top) => {
        const area = { left, top, width: 17, height: 11 };
        // A box from 3 to 8 covers pixels 3 to 7; a hair less on each side covers the same.
        const given = whole.map(({ x, y, width, height }) => ({
          x: x + 0.01,
          y: y + 0.01,
          width: width - 0.02,
          height: height - 0.02,
        }));
        const open = Array.from({ length: 17 * 11 }, (_, at) => {
          const [x, y] = [left + (at % 17) + 0.5, top + Math.floor(at / 17) + 0.5];
          const covered = given.some(
            (box) => x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height,
          );
          return covered ? 0 : 1;
        });
        expect([...uncovered(area, PPI, given)]).toEqual(open);
      }),
      { seed: 20261125 },
    );
  });
});
