import { beforeAll, describe, expect, test } from 'vitest';
import { pairPages } from '../../../src/comparing/pairing/pair-pages.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { PageSignature } from '../../../src/model/index.ts';
import { fileOf, pageView } from './made-up-pages.ts';
import { PHOTO_COUNT, dummySignature, finalSignature } from './photo-pages.ts';
import type { Crop } from './photo-pages.ts';

/** Four quarters of each photograph, and of each a second frame: the same quarter, the camera a little further. */
const quarters: Crop[] = Array.from({ length: PHOTO_COUNT }, (_, photo) => photo).flatMap((photo) =>
  [0, 0.48].flatMap((left) => [0, 0.48].map((top) => ({ photo, left, top, width: 0.48, height: 0.48 }))),
);
const secondFrame = (crop: Crop, step: number): Crop => ({ ...crop, left: crop.left + step });

const pair = (dummy: readonly PageSignature[], revision: readonly PageSignature[]) =>
  pairPages(
    {
      dummy: fileOf(dummy.map((signature) => pageView({ signature }))),
      revision: fileOf(revision.map((signature) => pageView({ signature }))),
    },
    DEFAULT_TOLERANCES,
  );

/** As a slipped hand would: backwards by sevens. */
const shuffled = quarters.map((_, index) => (index * 11 + 5) % quarters.length);
const finals = { coated: {}, uncoated: { uncoated: true }, greyscale: { grey: true, uncoated: true } } as const;

let dummies: PageSignature[] = [];
beforeAll(async () => {
  dummies = await Promise.all(quarters.map((crop) => dummySignature(crop)));
});

describe.each(Object.entries(finals))('a dummy against its final for %s', (_, how) => {
  let converted: PageSignature[] = [];
  beforeAll(async () => {
    converted = await Promise.all(quarters.map((crop) => finalSignature(crop, how)));
  });

  test('every page keeps its place', () => {
    expect(pair(dummies, converted)).toMatchObject({ missing: [], added: [], repeated: [], moved: [] });
  });

  test('every page is found again in another order', () => {
    const { pairs } = pair(
      dummies,
      shuffled.map((index) => converted[index]!),
    );
    expect(pairs.map(({ dummyPage, by }) => [dummyPage, by])).toEqual(shuffled.map((index) => [index + 1, 'likeness']));
  });

  test('missing pages are missing: none is taken for a part of the same photograph', () => {
    const kept = converted.filter((__, index) => index % 4 !== 1);
    const { missing, added, moved } = pair(dummies, kept);
    expect({ missing, added, moved }).toEqual({
      missing: quarters.map((__, index) => index + 1).filter((page) => (page - 1) % 4 === 1),
      added: [],
      moved: [],
    });
  });

  // A step of 0.2 % is a single pixel of the photographs as they are read here.
  test.each([0.002, 0.01, 0.04])(
    'two frames %d of the width apart: kept in order, and seen when exchanged',
    async (step) => {
      for (const place of [0, 10, 21, 26]) {
        const frames = [quarters[place]!, secondFrame(quarters[place]!, step)] as const;
        const others = { before: dummies.slice(place + 1, place + 2), after: converted.slice(place + 1, place + 2) };
        const [one, two] = [await dummySignature(frames[0]), await dummySignature(frames[1])];
        const [first, second] = [await finalSignature(frames[0], how), await finalSignature(frames[1], how)];
        const dummy = [one, ...others.before, two];
        const straight = pair(dummy, [first, ...others.after, second]);
        expect(straight.pairs.map(({ dummyPage }) => dummyPage)).toEqual([1, 2, 3]);
        const exchanged = pair(dummy, [second, ...others.after, first]);
        expect([place, exchanged.pairs.map(({ dummyPage }) => dummyPage)]).toEqual([place, [3, 2, 1]]);
      }
    },
  );
});

test('one photograph twice, compressed differently each time, never seems exchanged', async () => {
  for (const place of [0, 9, 17]) {
    const crop = quarters[place]!;
    const before = [await dummySignature(crop, 70), dummies[place + 1]!, await dummySignature(crop, 45)];
    const after = [await dummySignature(crop, 38), dummies[place + 1]!, await dummySignature(crop, 60)];
    expect(pair(before, after)).toMatchObject({ missing: [], added: [], repeated: [], moved: [] });
    expect(pair(before, [...after].reverse())).toMatchObject({ missing: [], added: [], repeated: [], moved: [] });
  }
});
