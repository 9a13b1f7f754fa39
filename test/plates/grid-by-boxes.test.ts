import { describe, expect, it } from 'vitest';
import type { Box } from '../../src/model/index.ts';
import { agreesWithMarks, gridByBoxes, isPageSized } from '../../src/plates/index.ts';

const page = { width: 100, height: 120 };
const at = (x: number, y: number): Box => ({ x, y, ...page });
const four = [at(20, 15), at(120, 15), at(20, 135), at(120, 135)];

describe('the columns and rows of a side by the boxes of its pages', () => {
  it('are told by a box in every cell, in whatever order they were placed', () => {
    const grid = { columnsMm: [20, 120], rowsMm: [15, 135], onSide: false };
    expect(gridByBoxes(four, page)).toEqual(grid);
    expect(gridByBoxes(four.toReversed(), page)).toEqual(grid);
  });

  it('are told where a page was left out, one was placed twice, or creep moved some', () => {
    expect(gridByBoxes(four.slice(1), page)).toEqual({ columnsMm: [20, 120], rowsMm: [15, 135], onSide: false });
    expect(gridByBoxes([...four, at(20.1, 15)], page)).toEqual({
      columnsMm: [20, 120],
      rowsMm: [15, 135],
      onSide: false,
    });
    const crept = [at(20.4, 15), at(119.6, 15), at(20.2, 135), at(119.8, 135)];
    const { columnsMm } = gridByBoxes(crept, page)!;
    expect(columnsMm.map((x) => Math.round(x * 10) / 10)).toEqual([20.3, 119.7]);
  });

  it('are not told by boxes that overlap, since not all of them are pages, nor by none or a few that stand apart', () => {
    expect(gridByBoxes([...four, at(70, 75)], page)).toBeNull();
    expect(gridByBoxes([], page)).toBeNull();
    expect(gridByBoxes([at(0, 0), at(200, 130), at(400, 260)], page)).toBeNull();
  });

  it('only boxes of the trimmed size are pages: one with its bleed says not where the trim lies', () => {
    expect(isPageSized(at(3, 4), page)).toBe(true);
    expect(isPageSized({ x: 0, y: 0, width: 100.3, height: 119.8 }, page)).toBe(true);
    expect(isPageSized({ x: 0, y: 0, width: 106, height: 126 }, page)).toBe(false);
  });

  it('lie on their sides where all boxes do', () => {
    const lying = four.map((_, index) => ({ x: index * 120, y: 10, width: 120, height: 100 }));
    expect(gridByBoxes(lying, page)).toEqual({ columnsMm: [0, 120, 240, 360], rowsMm: [10], onSide: true });
    expect(gridByBoxes([lying[0]!, at(120, 10)], page)).toBeNull();
    expect(isPageSized(lying[0]!, page)).toBe(true);
  });

  it('give way to crop marks that lie elsewhere, but not to marks that tell fewer pages', () => {
    const boxes = gridByBoxes(four, page)!;
    expect(agreesWithMarks(boxes, { columnsMm: [20.2, 119.9], rowsMm: [15, 135], onSide: false })).toBe(true);
    expect(agreesWithMarks(boxes, { columnsMm: [21.5, 121.5], rowsMm: [15, 135], onSide: false })).toBe(false);
    expect(agreesWithMarks(boxes, { columnsMm: [20, 120, 220], rowsMm: [15, 135], onSide: false })).toBe(false);
    expect(agreesWithMarks(boxes, { columnsMm: [20, 120], rowsMm: [135], onSide: false })).toBe(true);
  });
});
