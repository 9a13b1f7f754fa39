import { describe, expect, it } from 'vitest';
import type { InkedPlate } from '../../../src/plates/separations/exchanged-inks.ts';
import { shownInks } from '../../../src/plates/separations/exchanged-inks.ts';

const CELLS = 400;
const even = (tone: number) => new Uint8Array(CELLS).fill(tone);
/** Every other cell a level lower. */
const uneven = (tone: number) => even(tone).map((value, cell) => value - (cell % 2));

/** A tint of cyan and a little yellow over all cells, without magenta and black. */
const TINT = { cyan: 200, yellow: 40 };

/** The dummy's colours of the tint: each takes away its complement. Its reds are rounded one way or the other. */
const COLOURS = Uint8Array.from({ length: CELLS * 3 }, (_, at) => {
  const cell = Math.floor(at / 3);
  return [255 - TINT.cyan + (cell % 2), 255, 255 - TINT.yellow][at % 3]!;
});

const plates = (cyan: Uint8Array, yellow: Uint8Array): readonly InkedPlate[] => [
  { ink: 'cyan', grid: cyan },
  { ink: 'magenta', grid: even(0) },
  { ink: 'yellow', grid: yellow },
  { ink: 'black', grid: even(0) },
];

describe('plates of a tint of one colour', () => {
  it('are as named where they print it', () => {
    const inks = shownInks(plates(even(TINT.cyan), even(TINT.yellow)), COLOURS);
    expect(inks).toEqual(['cyan', 'magenta', 'yellow', 'black']);
  });

  it('are told where two are exchanged, also where the other order happens to round as the dummy does', () => {
    const inks = shownInks(plates(uneven(TINT.yellow), even(TINT.cyan)), COLOURS);
    expect(inks).toEqual(['yellow', 'magenta', 'cyan', 'black']);
  });
});
