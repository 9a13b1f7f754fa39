import { describe, expect, it } from 'vitest';
import { evenSquares } from '../../../src/plates/index.ts';

const SIDE = 320;

function plate(tone: (x: number, y: number) => number) {
  return {
    width: SIDE,
    height: SIDE,
    data: Uint8Array.from({ length: SIDE * SIDE }, (_, at) => tone(at % SIDE, Math.floor(at / SIDE))),
  };
}

const share = { x: 0.25, y: 0.25 };

describe('places by which a screen is told', () => {
  it('are found also where dots are so coarse that the tones show them', () => {
    const dots = plate((x, y) => (y < 160 ? 0 : x % 4 < 2 && y % 4 < 2 ? 255 : 0));
    expect(evenSquares(dots, share, 1)).toEqual([{ x: 0, y: 0.5 }]);
  });

  it('are not where there is type or bare paper', () => {
    expect(
      evenSquares(
        plate((x, y) => (y % 40 < 16 && x % 9 < 5 ? 255 : 0)),
        share,
        1,
      ),
    ).toEqual([]);
    expect(
      evenSquares(
        plate(() => 0),
        share,
        1,
      ),
    ).toEqual([]);
  });
});
