import { describe, expect, it } from 'vitest';
import { inkDiffers } from '../../../src/comparing/text/ink-difference.ts';
import type { Face } from './true-letters.ts';
import { drawLetters, phases } from './true-letters.ts';

/** In how many phases of the pixel grid the first word, which stands still, is told from the second. */
function toldFrom(one: string, other: string, sizePt: number, face: Face, every = 1): number {
  const still = drawLetters(one, sizePt, face);
  const moved = drawLetters(other, sizePt, face);
  const dummy = still.at(0, 0);
  return phases(every).filter(([right, down]) => inkDiffers({ dummy, revision: moved.at(right, down) }, still.box))
    .length;
}

describe('the same outlines a part of a pixel off are the same type in all 64 phases of the grid', () => {
  it.each<[number, Face, string]>(
    (['sans', 'serif', 'light'] as const).flatMap((face) => [
      [8, face, 'Hafen,8'],
      [10, face, 'Hafen,8'],
      [16, face, 'Haß'],
      [24, face, 'a8'],
      [36, face, 'a'],
    ]),
  )('in %s pt of the %s', (sizePt, face, word) => {
    expect(toldFrom(word, word, sizePt, face)).toBe(0);
  });
});

describe('another letter is told in every phase of the grid, from 6 to 10 pt', () => {
  const CHANGES = [
    ['Hafen', 'Hafcn'],
    ['Villa', 'Vllla'],
    ['café', 'cafe'],
    ['138', '133'],
  ] as const;
  it.each<[string, string, Face]>(
    CHANGES.flatMap(([one, other]) => (['sans', 'serif'] as const).map((face) => [one, other, face] as const)).map(
      ([one, other, face]) => [one, other, face],
    ),
  )('%s and %s in the %s', (one, other, face) => {
    const all = phases(5).length;
    expect([6, 8, 10].map((sizePt) => toldFrom(one, other, sizePt, face, 5))).toEqual([all, all, all]);
  });
});
