import { describe, expect, it } from 'vitest';
import { putCells } from '../../../src/comparing/kernels/cells.ts';
import type { Cells } from '../../../src/comparing/kernels/cells.ts';
import { learnLeftovers } from '../../../src/comparing/pictures/shade-leftovers.ts';

type Colour = readonly [l: number, a: number, b: number];

interface Cell {
  readonly colour: Colour;
  /** What the revision shows there. */
  readonly shown: Colour;
  readonly count: number;
  readonly silent?: boolean;
}

function learnt(cells: readonly Cell[]): Cells {
  const dummy = Float32Array.from(cells.flatMap(({ colour }) => colour));
  const put = putCells({
    width: cells.length,
    dummy,
    revision: Float32Array.from(cells.flatMap(({ shown }) => shown)),
    speaks: Uint8Array.from(cells.map(({ silent }) => (silent === true ? 0 : 1))),
  });
  put.mapped.set(dummy);
  learnLeftovers(put);
  return put;
}

function shadeOf(...colour: Colour): number {
  return learnt([{ colour, shown: colour, count: 1 }]).shades[0]!;
}

/** What is learnt of a colour, where the map leaves every colour as it was. */
function learn(cells: readonly Cell[], of: Colour): readonly number[] {
  const shade = shadeOf(...of) * 3;
  const { table } = learnt(cells.flatMap((one) => Array.from({ length: one.count }, () => one)));
  return [...table.subarray(shade, shade + 3)];
}

const BLUE: Colour = [40, 10, -50];
const GREEN: Colour = [60, -40, 30];

describe('a shade', () => {
  it('is the same for colours that hardly differ, and another for others', () => {
    expect(shadeOf(41, 12, -48)).toBe(shadeOf(...BLUE));
    const shades = [BLUE, GREEN, [40, 10, -30], [40, 30, -50], [60, 10, -50]].map((colour) =>
      shadeOf(...(colour as Colour)),
    );
    expect(new Set(shades).size).toBe(5);
  });

  it('beyond the most vivid is the last one', () => {
    expect(shadeOf(120, 200, -200)).toBe(shadeOf(100, 75, -75));
    expect(shadeOf(-5, -200, 200)).toBe(shadeOf(0, -75, 75));
  });
});

describe('what a conversion leaves over for a shade', () => {
  it('is learnt where the shade occurs often', () => {
    const [l, a, b] = learn([{ colour: BLUE, shown: [43, 10, -48], count: 2000 }], BLUE);
    expect([l, a, b].map((value) => Number(value!.toFixed(1)))).toEqual([3, 0, 2]);
  });

  it('is hardly believed where it occurs in a few cells only', () => {
    const [l] = learn([{ colour: BLUE, shown: [44, 10, -50], count: 4 }], BLUE);
    expect(l).toBeCloseTo(1, 9);
  });

  it('is believed by half at a dozen cells', () => {
    const [l] = learn([{ colour: BLUE, shown: [44, 10, -50], count: 12 }], BLUE);
    expect(l).toBeCloseTo(2, 9);
  });

  it('is never so much that a retouched part would be taken for a conversion', () => {
    const [l, a, b] = learn([{ colour: BLUE, shown: [90, 40, 40], count: 2000 }], BLUE);
    expect(Math.hypot(l!, a!, b!)).toBeCloseTo(6, 5);
    // Its direction is kept.
    expect([l! / b!, a! / b!].map((value) => Number(value.toFixed(3)))).toEqual([0.556, 0.333]);
  });

  it('is nothing for a shade that does not occur, and says nothing about others', () => {
    const cells = [{ colour: BLUE, shown: [43, 10, -48] as const, count: 100 }];
    expect(learn(cells, GREEN)).toEqual([0, 0, 0]);
  });

  it('is not learnt where nothing speaks', () => {
    const silent = { colour: BLUE, shown: [43, 10, -48] as const, count: 100, silent: true };
    expect(learn([silent], BLUE)).toEqual([0, 0, 0]);
  });
});
