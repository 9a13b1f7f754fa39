import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pairPages } from '../../../src/comparing/pairing/pair-pages.ts';
import type { PageView } from '../../../src/comparing/pairing/page-view.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import {
  chanceFrom,
  convert,
  fileOf,
  pageView,
  pictureSignature,
  proseOf,
  recolour,
  typeSignature,
} from './made-up-pages.ts';

const PAGES = 24;
const settings = { seed: 20261125, numRuns: 40 };

/** Pictures, and every fourth page of type; no two show the same. */
const drawn = Array.from({ length: PAGES }, (_, index) =>
  index % 4 === 3
    ? { signature: typeSignature(index), words: proseOf(index, 120) }
    : { signature: pictureSignature(index), words: [] },
);
const hashed = drawn.map((page, index) => ({ ...page, contentHash: `page ${index}` }));
const convertedOnce = drawn.map((page, index) => ({ ...page, signature: convert(page.signature, index) }));
const extra = Array.from({ length: 6 }, (_, index) => ({ signature: pictureSignature(500 + index), words: [] }));

const viewsOf = (pages: readonly Partial<PageView>[]) => fileOf(pages.map((page) => pageView(page)));
const pair = (dummy: readonly PageView[], revision: readonly PageView[]) =>
  pairPages({ dummy, revision }, DEFAULT_TOLERANCES);

/** The longest rising run by trying every end; the plain twin of the fast one. */
function longestRise(order: readonly number[]): number {
  const best = order.map(() => 1);
  order.forEach((value, at) => {
    for (let before = 0; before < at; before++) {
      if (order[before]! < value) best[at] = Math.max(best[at]!, best[before]! + 1);
    }
  });
  return Math.max(0, ...best);
}

const anyOrder = fc.shuffledSubarray(
  Array.from({ length: PAGES }, (_, index) => index),
  { minLength: PAGES, maxLength: PAGES },
);
const anyPart = fc.shuffledSubarray(
  Array.from({ length: PAGES }, (_, index) => index),
  { minLength: 1 },
);

describe.each([
  ['equal content', hashed, hashed],
  ['likeness after a conversion', drawn, convertedOnce],
] as const)('by %s', (_, before, after) => {
  test('whatever the order, every page is found, and the moved ones are the pages less the longest rising run', () => {
    fc.assert(
      fc.property(anyOrder, (order) => {
        const pairing = pair(viewsOf(before), viewsOf(order.map((index) => after[index]!)));
        expect(pairing.pairs.map(({ dummyPage }) => dummyPage)).toEqual(order.map((index) => index + 1));
        expect(pairing.moved).toHaveLength(PAGES - longestRise(order));
        expect([pairing.missing, pairing.added, pairing.repeated]).toEqual([[], [], []]);
      }),
      settings,
    );
  });

  test('moved pages taken out of both orders leave one and the same order', () => {
    fc.assert(
      fc.property(anyOrder, (order) => {
        const pairing = pair(viewsOf(before), viewsOf(order.map((index) => after[index]!)));
        const moved = new Set(pairing.moved.map(({ dummyPage }) => dummyPage));
        const stayed = pairing.pairs.map(({ dummyPage }) => dummyPage).filter((page) => !moved.has(page));
        expect(stayed).toEqual([...stayed].sort((a, b) => a - b));
      }),
      { ...settings, numRuns: 20 },
    );
  });

  test('pages taken out are missing, the rest keeps its order: nothing moved', () => {
    fc.assert(
      fc.property(anyPart, (part) => {
        const kept = [...part].sort((a, b) => a - b);
        const pairing = pair(viewsOf(before), viewsOf(kept.map((index) => after[index]!)));
        expect(pairing).toMatchObject({ added: [], repeated: [], moved: [] });
        expect(pairing.pairs.map(({ dummyPage }) => dummyPage)).toEqual(kept.map((index) => index + 1));
        expect(pairing.missing).toEqual(
          before.map((__, index) => index + 1).filter((page) => !kept.includes(page - 1)),
        );
      }),
      settings,
    );
  });

  test('pages put in are added, and nothing moved', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(PAGES), { maxLength: extra.length }), (places) => {
        const sorted = [...places].sort((a, b) => b - a);
        const pages: Partial<PageView>[] = [...after];
        sorted.forEach((place, index) => pages.splice(place, 0, extra[index]!));
        const pairing = pair(viewsOf(before), viewsOf(pages));
        const added = pages.flatMap((page, index) => (extra.some((one) => one === page) ? [index + 1] : []));
        expect(pairing).toMatchObject({ added, missing: [], repeated: [], moved: [] });
      }),
      settings,
    );
  });

  test('a page put in a second time is repeated, at either of its places, and nothing moved', () => {
    fc.assert(
      fc.property(fc.nat(PAGES - 1), fc.nat(PAGES), (index, place) => {
        const pages = [...after.slice(0, place), after[index]!, ...after.slice(place)];
        const pairing = pair(viewsOf(before), viewsOf(pages));
        expect(pairing).toMatchObject({ added: [], missing: [], moved: [] });
        expect(pairing.repeated.map(({ dummyPage }) => dummyPage)).toEqual([index + 1]);
        const places = pages.flatMap((page, at) => (page === after[index] ? [at + 1] : []));
        const told = pairing.repeated.flatMap(({ revisionPage, firstAt }) => [revisionPage, firstAt]);
        expect(told.sort((a, b) => a - b)).toEqual(places);
      }),
      settings,
    );
  });

  test('swapped roles give the inverse: pairs mirrored, missing for added, as many moves', () => {
    fc.assert(
      fc.property(anyPart, (part) => {
        const [one, other] = [viewsOf(before), viewsOf([...part.map((index) => after[index]!), ...extra.slice(0, 2)])];
        const [there, back] = [pair(one, other), pair(other, one)];
        const mirrored = back.pairs.map(({ dummyPage, revisionPage }) => [revisionPage, dummyPage]);
        mirrored.sort((a, b) => a[1]! - b[1]!);
        expect(mirrored).toEqual(there.pairs.map(({ dummyPage, revisionPage }) => [dummyPage, revisionPage]));
        expect(back.missing).toEqual(there.added);
        expect(back.added).toEqual(there.missing);
        expect(back.moved).toHaveLength(there.moved.length);
      }),
      settings,
    );
  });
});

test('every page of either file is accounted for once, also among lookalikes, blank and repeated pages', () => {
  const kinds = [...drawn.slice(0, 4), { contentHash: 'w', blank: true }, { contentHash: 'h' }, extra[0]!];
  const anyFile = fc.array(fc.nat(kinds.length - 1), { maxLength: 14 });
  fc.assert(
    fc.property(anyFile, anyFile, (before, after) => {
      const pairing = pair(viewsOf(before.map((kind) => kinds[kind]!)), viewsOf(after.map((kind) => kinds[kind]!)));
      const dummyPages = [...pairing.pairs.map(({ dummyPage }) => dummyPage), ...pairing.missing];
      const revisionPages = [
        ...pairing.pairs.map(({ revisionPage }) => revisionPage),
        ...pairing.added,
        ...pairing.repeated.map(({ revisionPage }) => revisionPage),
      ];
      expect(dummyPages.sort((a, b) => a - b)).toEqual(before.map((_, index) => index + 1));
      expect(revisionPages.sort((a, b) => a - b)).toEqual(after.map((_, index) => index + 1));
    }),
    { ...settings, numRuns: 200 },
  );
});

test('gain, gamma, noise and mixed channels do not change which page is which', () => {
  const conversion = fc.record({
    gain: fc.double({ min: 0.6, max: 1.1, noNaN: true }),
    lift: fc.double({ min: 0, max: 45, noNaN: true }),
    gamma: fc.double({ min: 0.7, max: 1.5, noNaN: true }),
    mixing: fc.double({ min: 0, max: 0.25, noNaN: true }),
    seed: fc.nat(1000),
  });
  fc.assert(
    fc.property(conversion, anyOrder, ({ gain, lift, gamma, mixing, seed }, order) => {
      const pages = order.map((index) => {
        const { signature, words } = drawn[index]!;
        const chance = chanceFrom(seed + index);
        const noisy = recolour(signature, (rgb) =>
          rgb.map((value, channel) => {
            const mixed = (1 - mixing) * value + mixing * rgb[(channel + 1) % 3]!;
            return lift + gain * 255 * (mixed / 255) ** gamma + 3 * (chance() - 0.5);
          }),
        );
        return { signature: noisy, words };
      });
      const pairing = pair(viewsOf(drawn), viewsOf(pages));
      expect(pairing.pairs.map(({ dummyPage }) => dummyPage)).toEqual(order.map((index) => index + 1));
    }),
    { ...settings, numRuns: 30 },
  );
});
