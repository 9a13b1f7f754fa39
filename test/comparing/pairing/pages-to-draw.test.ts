import { expect, test } from 'vitest';
import { pagesToDraw } from '../../../src/comparing/pairing/equal-pages.ts';

const file = (hashes: string) =>
  [...hashes].map((hash, index) => ({ pageNumber: index + 1, contentHash: hash === '?' ? null : hash }));
const draw = (dummy: string, revision: string) => pagesToDraw({ dummy: file(dummy), revision: file(revision) });

test('a file re-saved, in whatever order, needs no page drawn', () => {
  expect(draw('abcb', 'bacb')).toEqual({ dummy: [], revision: [] });
});

test('pages whose content the other file does not have are drawn', () => {
  expect(draw('abc', 'axcd')).toEqual({ dummy: [2], revision: [2, 4] });
});

test('of a content that one file has more often, one page is drawn, for all of them', () => {
  expect(draw('wawb', 'wawbw')).toEqual({ dummy: [1], revision: [] });
  expect(draw('wawb', 'waxb')).toEqual({ dummy: [1], revision: [3] });
});

test('a page that cannot be read is not drawn', () => {
  expect(draw('a?c', 'a?d')).toEqual({ dummy: [3], revision: [3] });
});
