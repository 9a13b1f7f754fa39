import { describe, expect, it } from 'vitest';
import { refinePlaces } from '../../src/plates/index.ts';
import type { SeenCell, SeenSide } from '../../src/plates/index.ts';

type Off = SeenCell['offMm'];

const off = (x: number, y: number, byWords = false): Off => ({ x, y, byWords });

/** Two pages of 100 x 120 mm beside each other, roughly at 10 and 112 mm. */
function side(left: Off, right: Off): SeenSide {
  const cells = [left, right].map((offMm, index): SeenCell => {
    const box = { x: index === 0 ? 10 : 112, y: 20, width: 100, height: 120 };
    const cell = { page: index + 1, row: 1, column: index + 1, turnDeg: 0 as const, box, creepMm: 0 };
    return { cell, box, recognised: null, offMm };
  });
  return { sheet: 1, side: 'front', filePage: 1, cells };
}

const placesOf = (sides: readonly SeenSide[]): number[][] =>
  refinePlaces(sides).map(({ cells }) => cells.map(({ box }) => Math.round(box.x * 100) / 100));

describe('places that only matching tells', () => {
  it('are where the pages of a column were measured, and the pages are measured against that', () => {
    const [refined] = refinePlaces([side(off(1, -0.5), off(-2, -0.5))]);
    expect(refined?.cells.map(({ box }) => [box.x, box.y])).toEqual([
      [11, 19.5],
      [110, 19.5],
    ]);
    expect(refined?.cells.map(({ offMm }) => offMm)).toEqual([off(0, 0), off(0, 0)]);
  });

  it('are told by words where one page of a row has words, whatever the others seem to be', () => {
    const [refined] = refinePlaces([side(off(1, 0.4, true), off(-1, 0.2))]);
    expect(refined?.cells.map(({ box }) => box.y)).toEqual([20.4, 20.4]);
  });

  it('follow from other sides in a column where nothing tells', () => {
    expect(placesOf([side(off(1, 0), off(-1, 0)), side(off(2, 0), null)])).toEqual([
      [11, 111],
      [12, 112],
    ]);
    expect(placesOf([side(off(1, 0), off(-1, 0)), side(null, null)])[1]).toEqual([11, 111]);
  });

  it('go with their neighbour where no side tells', () => {
    expect(placesOf([side(off(2, 0), null)])).toEqual([[12, 114]]);
  });
});
