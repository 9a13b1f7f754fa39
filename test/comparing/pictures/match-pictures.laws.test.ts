import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import type { PictureMatch } from '../../../src/comparing/pictures/match-pictures.ts';
import { matchPictures } from '../../../src/comparing/pictures/match-pictures.ts';
import type { Box } from '../../../src/model/index.ts';
import { carried, photograph } from '../made-up-scenes.ts';
import type { SketchedPicture } from '../sketched-page.ts';
import { drawPage } from '../sketched-page.ts';

const settings = { seed: 20261125, numRuns: 10 };
const SIZE = { width: 62, height: 32 };
/** Six places on a page of contact prints. */
const PLACES: Box[] = Array.from({ length: 6 }, (_, at) => ({
  x: 2 + 20 * (at % 3),
  y: 2 + 15 * Math.floor(at / 3),
  width: 18,
  height: 13,
}));

const print = (name: number, place: number, data: string): SketchedPicture => ({
  window: PLACES[place]!,
  scene: carried(photograph(name + 1, 2.5), { shiftX: PLACES[place]!.x, shiftY: PLACES[place]!.y }),
  told: { samplesHash: `${data} of ${name}` },
});
const sideOf = (pictures: readonly SketchedPicture[]) => preparePage(drawPage({ size: SIZE, pictures }));
const nameOf = ({ picture }: { picture: { samplesHash: string } }) => picture.samplesHash.replace(/^.* of /, '');

const told = ({ pairs, missing, added }: PictureMatch) => ({
  pairs: pairs.map((pair) => `${nameOf(pair.dummy)} ${nameOf(pair.revision)}`).sort(),
  missing: missing.map(nameOf).sort(),
  added: added.map(nameOf).sort(),
});

/** Which print lies in which of the places; a shorter list leaves the last places free. */
const laid = fc.shuffledSubarray([0, 1, 2, 3, 4, 5], { minLength: 1 });

describe('a page of contact prints', () => {
  it('from which some were taken is the others, where they were, and those that went', () => {
    fc.assert(
      fc.property(laid, laid, (before, taken) => {
        const prints = before.map((name, at) => print(name, at, 'RGB'));
        const left = before.map((name, at) => print(name, at, 'CMYK')).filter((_, at) => !taken.includes(before[at]!));
        const went = before.filter((name) => taken.includes(name)).map(String);
        const stayed = before.filter((name) => !taken.includes(name));
        const pairs = stayed.map((name) => `${name} ${name}`).sort();
        expect(told(matchPictures(sideOf(prints), sideOf(left)))).toEqual({ pairs, missing: went.sort(), added: [] });
        expect(told(matchPictures(sideOf(left), sideOf(prints)))).toEqual({ pairs, missing: [], added: went.sort() });
      }),
      settings,
    );
  });

  it('converted to other data in the same places is the same prints, in whatever order they are drawn', () => {
    fc.assert(
      fc.property(laid, fc.integer({ min: 1, max: 5 }), (names, turn) => {
        const before = names.map((name, at) => print(name, at, 'RGB'));
        const after = names.map((name, at) => print(name, at, 'CMYK'));
        const rotated = [...after.slice(turn % after.length), ...after.slice(0, turn % after.length)];
        expect(told(matchPictures(sideOf(before), sideOf(rotated)))).toEqual({
          pairs: names.map((name) => `${name} ${name}`).sort(),
          missing: [],
          added: [],
        });
      }),
      settings,
    );
  });
});
