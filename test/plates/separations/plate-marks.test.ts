import { describe, expect, it } from 'vitest';
import { plateMarks } from '../../../src/plates/index.ts';
import { likenessOfMarks, unlikeMarks } from '../../../src/plates/separations/plate-marks.ts';

const PX = 2;
const SIZE = { width: 60, height: 40 };
const PAGE = { x: 10, y: 8, width: 30, height: 20 };

/** A plate with a page of one tone and a patch beside it. */
function plate(patchX: number) {
  const data = new Uint8Array(SIZE.width * SIZE.height * PX * PX).fill(255);
  const fill = (x: number, y: number, width: number, height: number, darkness: number): void => {
    for (let row = y * PX; row < (y + height) * PX; row++) {
      data.fill(255 - darkness, (row * SIZE.width + x) * PX, (row * SIZE.width + x) * PX + width * PX);
    }
  };
  fill(PAGE.x - 3, PAGE.y - 3, PAGE.width + 6, PAGE.height + 6, 120);
  fill(patchX, 35, 3, 2, 200);
  return { width: SIZE.width * PX, height: SIZE.height * PX, pxPerMm: PX, data };
}

describe('the marks of a plate', () => {
  const marks = plateMarks(plate(20), [PAGE]);

  it('are what it has beside its pages and their bleed, by square millimetres', () => {
    expect(marks).toMatchObject({ columns: 60, rows: 40 });
    expect([...marks.cells]).toEqual([2120, 2121, 2122, 2180, 2181, 2182]);
    expect([...marks.ink]).toEqual([200, 200, 200, 200, 200, 200]);
  });

  it('are the other way round where two plates stand for each other', () => {
    const other = plateMarks(plate(26), [PAGE]);
    const apart = unlikeMarks(marks, other)!;
    expect(apart).toEqual({
      cells: [2120, 2121, 2122, 2126, 2127, 2128, 2180, 2181, 2182, 2186, 2187, 2188],
      ink: [200, 200, 200, -200, -200, -200, 200, 200, 200, -200, -200, -200],
    });
    expect(likenessOfMarks(apart, apart)).toBeCloseTo(1, 9);
    expect(likenessOfMarks(apart, unlikeMarks(other, marks)!)).toBeCloseTo(-1, 9);
    expect(unlikeMarks(marks, marks)).toEqual({ cells: [], ink: [] });
    expect(unlikeMarks(marks, { ...other, rows: 41 })).toBeNull();
  });
});
