import { expect, test } from 'vitest';
import { tellOrderFindings } from '../../../src/comparing/pairing/order-findings.ts';
import { orderPagePairs } from '../../../src/comparing/pairing/order-page-pairs.ts';
import type { Pairing } from '../../../src/comparing/pairing/page-view.ts';

const paired = (dummyPage: number, revisionPage: number) =>
  ({ dummyPage, revisionPage, by: 'likeness', turnedDeg: 0, emptied: false }) as const;
const quiet: Pairing = { pairs: [], missing: [], added: [], repeated: [], moved: [] };
const noPlace = { weight: 'stop', box: null, revisionBox: null };

test('a page carried from 30 to 4 is told in a sentence with both places', () => {
  const moved = [{ dummyPage: 30, revisionPage: 4, fromPosition: 30, toPosition: 4 }];
  expect(tellOrderFindings({ ...quiet, moved })).toEqual([
    {
      ...noPlace,
      kind: 'page-moved',
      dummyPage: 30,
      revisionPage: 4,
      measured: { fromPosition: 30, toPosition: 4 },
      says: 'Page 30 of the dummy now stands at place 4.',
    },
  ]);
});

test('every kind of page finding has its sentence, in page order, and all of them stop', () => {
  const found = tellOrderFindings({
    pairs: [
      { ...paired(1, 1), turnedDeg: 180 },
      { ...paired(3, 2), emptied: true, by: 'place' },
      { ...paired(4, 4), turnedDeg: 0 },
    ],
    missing: [2],
    added: [5],
    repeated: [{ dummyPage: 4, revisionPage: 6, firstAt: 4 }],
    moved: [],
  });
  expect(found).toEqual([
    {
      ...noPlace,
      kind: 'page-turned',
      dummyPage: 1,
      revisionPage: 1,
      measured: { degrees: 180 },
      says: 'Page 1 is turned by 180 degrees clockwise.',
    },
    {
      ...noPlace,
      kind: 'page-missing',
      dummyPage: 2,
      revisionPage: null,
      measured: {},
      says: 'Page 2 of the dummy is missing from the revision.',
    },
    {
      ...noPlace,
      kind: 'page-emptied',
      dummyPage: 3,
      revisionPage: 2,
      measured: {},
      says: 'Page 3 of the dummy, page 2 of the revision, is blank: what the dummy shows there is gone.',
    },
    {
      ...noPlace,
      kind: 'page-repeated',
      dummyPage: 4,
      revisionPage: 6,
      measured: { firstAt: 4 },
      says: 'Page 4 of the dummy stands twice: at place 4 and again at place 6.',
    },
    {
      ...noPlace,
      kind: 'page-added',
      dummyPage: null,
      revisionPage: 5,
      measured: {},
      says: 'Page 5 of the revision is not in the dummy.',
    },
  ]);
});

test('an unchanged order has no findings', () => {
  expect(tellOrderFindings({ ...quiet, pairs: [paired(1, 1), paired(2, 2)] })).toEqual([]);
});

test('the list of pages follows the revision, with missing pages where the dummy had them', () => {
  const pairing: Pairing = {
    pairs: [paired(7, 1), paired(2, 2), paired(3, 3), paired(6, 5)],
    missing: [1, 4, 5],
    added: [4],
    repeated: [{ dummyPage: 2, revisionPage: 6, firstAt: 2 }],
    moved: [{ dummyPage: 7, revisionPage: 1, fromPosition: 7, toPosition: 1 }],
  };
  const states = orderPagePairs(pairing, ({ dummyPage }) => (dummyPage === 3 ? 'differs' : 'same-picture'));
  expect(states.map(({ dummyPage, revisionPage, state }) => [dummyPage, revisionPage, state])).toEqual([
    [1, null, 'missing'],
    [7, 1, 'same-picture'],
    [2, 2, 'same-picture'],
    [3, 3, 'differs'],
    [4, null, 'missing'],
    [5, null, 'missing'],
    [null, 4, 'added'],
    [6, 5, 'same-picture'],
    [2, 6, 'repeated'],
  ]);
});
