import { describe, expect, it } from 'vitest';
import { matchPictures } from '../../../src/comparing/pictures/match-pictures.ts';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import type { Box } from '../../../src/model/index.ts';
import { carried, even, photograph } from '../made-up-scenes.ts';
import type { SketchedPicture } from '../sketched-page.ts';
import { drawPage } from '../sketched-page.ts';

const LEFT: Box = { x: 4, y: 8, width: 26, height: 20 };
const RIGHT: Box = { x: 34, y: 8, width: 26, height: 20 };
const BELOW: Box = { x: 4, y: 30, width: 26, height: 18 };

const picture = (name: string, window: Box, seed: number, samplesHash = `${name}, as ${seed}`): SketchedPicture => ({
  window,
  // What a picture shows goes with its frame.
  scene: carried(photograph(seed), { shiftX: window.x, shiftY: window.y }),
  told: { samplesHash },
});

/** Which became which, by the names that their data were given. */
function match(dummy: readonly SketchedPicture[], revision: readonly SketchedPicture[]): unknown {
  const found = matchPictures(
    preparePage(drawPage({ pictures: dummy })),
    preparePage(drawPage({ pictures: revision })),
  );
  const nameOf = ({ picture: { samplesHash } }: { picture: { samplesHash: string } }) => samplesHash;
  return {
    pairs: found.pairs.map((pair) => [nameOf(pair.dummy), nameOf(pair.revision)]),
    missing: found.missing.map(nameOf),
    added: found.added.map(nameOf),
  };
}

const one = (window: Box, data = 'one') => picture('one', window, 1, data);
const two = (window: Box, data = 'two') => picture('two', window, 2, data);
const three = (window: Box, data = 'three') => picture('three', window, 3, data);

describe('a picture of the dummy page is found on the revision page', () => {
  it('where it stood, converted to other data', () => {
    expect(match([one(LEFT), two(RIGHT)], [one(LEFT, 'one in CMYK'), two(RIGHT, 'two in CMYK')])).toEqual({
      pairs: [
        ['one', 'one in CMYK'],
        ['two', 'two in CMYK'],
      ],
      missing: [],
      added: [],
    });
  });

  it('whatever the order in which the pictures are drawn', () => {
    expect(match([one(LEFT), two(RIGHT)], [two(RIGHT, 'two again'), one(LEFT, 'one again')])).toEqual({
      pairs: [
        ['one', 'one again'],
        ['two', 'two again'],
      ],
      missing: [],
      added: [],
    });
  });

  it('elsewhere by its data, though another stands in its old place', () => {
    expect(match([one(LEFT)], [three(LEFT), one(RIGHT)])).toEqual({
      pairs: [['one', 'one']],
      missing: [],
      added: ['three'],
    });
  });

  it('elsewhere by its look, with data of another preparation', () => {
    expect(match([one(LEFT)], [one(BELOW, 'one in CMYK')])).toEqual({
      pairs: [['one', 'one in CMYK']],
      missing: [],
      added: [],
    });
  });

  it('after two pictures exchanged their places', () => {
    expect(match([one(LEFT), two(RIGHT)], [two(LEFT), one(RIGHT)])).toEqual({
      pairs: [
        ['one', 'one'],
        ['two', 'two'],
      ],
      missing: [],
      added: [],
    });
  });

  it('as the other one that was put in its place', () => {
    expect(match([one(LEFT), two(RIGHT)], [three(LEFT), two(RIGHT, 'two again')])).toEqual({
      pairs: [
        ['one', 'three'],
        ['two', 'two again'],
      ],
      missing: [],
      added: [],
    });
  });

  it('each of two prints of the same data where it stood', () => {
    const found = matchPictures(
      preparePage(drawPage({ pictures: [one(LEFT), one(RIGHT)] })),
      preparePage(drawPage({ pictures: [one(RIGHT), one(LEFT)] })),
    );
    expect(found.pairs.map((pair) => [pair.dummy.window.x, pair.revision.window.x])).toEqual([
      [LEFT.x, LEFT.x],
      [RIGHT.x, RIGHT.x],
    ]);
  });
});

describe('a picture is', () => {
  it('missing where nothing stands in its place and nothing looks like it', () => {
    expect(match([one(LEFT), two(RIGHT)], [two(RIGHT)])).toEqual({
      pairs: [['two', 'two']],
      missing: ['one'],
      added: [],
    });
  });

  it('added where the dummy has nothing of the kind', () => {
    expect(match([two(RIGHT)], [two(RIGHT), one(BELOW)])).toEqual({
      pairs: [['two', 'two']],
      missing: [],
      added: ['one'],
    });
  });

  it('missing, and another added, where an unlike one stands in another place', () => {
    const grey = { window: BELOW, scene: even(90, 90, 90), told: { samplesHash: 'grey' } };
    expect(match([one(RIGHT)], [grey])).toEqual({ pairs: [], missing: ['one'], added: ['grey'] });
  });

  it('missing or added altogether on a page that has none', () => {
    expect(match([one(LEFT)], [])).toEqual({ pairs: [], missing: ['one'], added: [] });
    expect(match([], [one(LEFT)])).toEqual({ pairs: [], missing: [], added: ['one'] });
    expect(match([], [])).toEqual({ pairs: [], missing: [], added: [] });
  });
});
