import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inkDiffers } from '../../../src/comparing/text/ink-difference.ts';
import type { PageRaster } from '../../../src/model/index.ts';
import { drawRaster, FINE_PPI } from '../sketched-page.ts';

const BOX = { x: 4.6, y: 2.8, width: 14, height: 5.6 };
const drawn = new Map<string, PageRaster>();

/** A word in 8 pt, drawn once. */
function set(text: string): PageRaster {
  let raster = drawn.get(text);
  if (raster === undefined) {
    raster = drawRaster({ size: { width: 22, height: 10 }, lines: [{ text, x: 5, baseline: 7, sizePt: 8 }] }, FINE_PPI);
    drawn.set(text, raster);
  }
  return raster;
}

const differ = (one: string, other: string) => inkDiffers({ dummy: set(one), revision: set(other) }, BOX);

describe('in 8 pt', () => {
  it('every digit of a folio is told from every other', () => {
    const digits = '0123456789';
    const confused = [...digits].flatMap((one) =>
      [...digits].filter((other) => differ(`1${one}2`, `1${other}2`) !== (one !== other)).map((other) => one + other),
    );
    expect(confused).toEqual([]);
  });

  it('every lost accent is seen', () => {
    const unseen = ['é', 'è', 'ö', 'ü', 'ñ', 'å', 'š'].filter(
      (letter) => !differ(`ca${letter}e`, `ca${letter.normalize('NFD')[0]!}e`),
    );
    expect(unseen).toEqual([]);
  });

  it('a word is the same as itself and other than a word with one letter changed, whichever comes first', () => {
    const letter = fc.constantFrom(...'abcdefghijklmnoprstuvwxyz');
    const word = fc.array(letter, { minLength: 5, maxLength: 5 }).map((letters) => letters.join(''));
    fc.assert(
      fc.property(word, letter, fc.integer({ min: 0, max: 4 }), (text, other, at) => {
        const changed = text.slice(0, at) + other + text.slice(at + 1);
        expect(differ(text, text)).toBe(false);
        expect(differ(text, changed)).toBe(text !== changed);
        expect(differ(changed, text)).toBe(text !== changed);
      }),
      { seed: 20261125, numRuns: 30 },
    );
  });
});
