import { describe, expect, it } from 'vitest';
import { labFromSrgb } from '../../../src/comparing/colour/lab.ts';
import { fitBookConversion } from '../../../src/comparing/conversion/book-conversion.ts';
import type { ColourMap } from '../../../src/comparing/conversion/colour-map.ts';
import { applyColourMap, UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import type { PageSignature } from '../../../src/model/index.ts';
import { evenSignature, pictureSignature, recolour, signatureOf } from '../pairing/made-up-pages.ts';

type Change = (rgb: readonly [number, number, number]) => readonly number[];

const softened: Change = ([r, g, b]) => [30 + 0.8 * r, 30 + 0.8 * g, 24 + 0.8 * b];
const pages = Array.from({ length: 12 }, (_, at) => pictureSignature(at));
const paired = (change: Change, from = pages) => from.map((dummy) => ({ dummy, revision: recolour(dummy, change) }));

/** Mean distance between what the map makes of the pages' colours and what was done to them. */
function misfit(map: ColourMap, change: Change, of: readonly PageSignature[] = pages): number {
  const out = new Float32Array(3);
  let [sum, count] = [0, 0];
  for (const { cells } of of) {
    for (let at = 0; at < cells.length; at += 39) {
      const rgb = [cells[at]!, cells[at + 1]!, cells[at + 2]!] as const;
      const { l, a, b } = labFromSrgb(...rgb);
      const [red, green, blue] = change(rgb) as [number, number, number];
      const expected = labFromSrgb(red, green, blue);
      applyColourMap(map, l, a, b, out, 0);
      sum += Math.hypot(out[0]! - expected.l, out[1]! - expected.a, out[2]! - expected.b);
      count++;
    }
  }
  return sum / count;
}

describe('what the preparation did to the colours of a book', () => {
  it('is read off its pages', () => {
    expect(misfit(fitBookConversion(paired(softened)), softened)).toBeLessThan(1);
    expect(misfit(fitBookConversion(paired((rgb) => rgb)), (rgb) => rgb)).toBeLessThan(0.5);
  });

  it('is what most pages agree on: a page that was exchanged and one with a cast do not sway it', () => {
    const [first, second, ...rest] = paired(softened);
    const swayed = [
      { dummy: first!.dummy, revision: pictureSignature(900) },
      { dummy: second!.dummy, revision: recolour(second!.dummy, ([r, g, b]) => [r, g - 40, b - 60]) },
      ...rest,
    ];
    expect(misfit(fitBookConversion(swayed), softened)).toBeLessThan(1.5);
  });

  it('is not read off bare paper, however yellow the proof', () => {
    const yellowPaper = { dummy: evenSignature(255, 255, 255), revision: evenSignature(240, 235, 200) };
    const papers = Array.from({ length: 40 }, () => yellowPaper);
    const map = fitBookConversion([...papers, ...paired((rgb) => rgb)]);
    expect(misfit(map, (rgb) => rgb)).toBeLessThan(0.5);
    expect(fitBookConversion(papers)).toEqual(UNCHANGED);
  });

  it('is nothing for a book without pages', () => {
    expect(fitBookConversion([])).toEqual(UNCHANGED);
  });

  it('of an even book is what became of its one colour', () => {
    const map = fitBookConversion(
      Array.from({ length: 4 }, () => ({ dummy: evenSignature(120, 90, 60), revision: evenSignature(130, 100, 75) })),
    );
    expect(misfit(map, () => [130, 100, 75], [evenSignature(120, 90, 60)])).toBeLessThan(1);
  });

  it('takes a long book as quickly as a short one, by asking fewer cells of each page', () => {
    const long = Array.from({ length: 40 }, (_, at) => {
      const dummy = signatureOf((x, y) => [(x * 8 + at) % 256, (y * 8 + 3 * at) % 256, ((x + y) * 4 + 7 * at) % 256]);
      return { dummy, revision: recolour(dummy, softened) };
    });
    const map = fitBookConversion(long);
    expect(
      misfit(
        map,
        softened,
        long.map(({ dummy }) => dummy),
      ),
    ).toBeLessThan(1.5);
  });
});
