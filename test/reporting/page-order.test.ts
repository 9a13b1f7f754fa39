import { describe, expect, it } from 'vitest';
import { findingsAt, inPageOrder } from '../../src/reporting/index.ts';
import { findingsByPlace, heaviest } from '../../src/reporting/page-order.ts';
import { spreadsOf } from '../../src/reporting/spreads.ts';
import { SAMPLE_PAGES, SAMPLE_REPORT } from './sample-book.ts';

describe('findings as a person leafs through the revision', () => {
  it('start with the whole file and follow its pages; a missing page stands where the dummy had it', () => {
    expect(inPageOrder(SAMPLE_REPORT).map(({ kind, revisionPage }) => `${revisionPage ?? '-'} ${kind}`)).toEqual([
      '- picture-coarse',
      '1 page-resized',
      '2 picture-missing',
      '4 crop-altered',
      '5 picture-replaced',
      '6 page-moved',
      '8 picture-moved',
      '9 page-emptied',
      '10 picture-added',
      '11 page-turned',
      '12 picture-resized',
      '13 picture-turned',
      '- page-missing',
      '14 picture-mirrored',
      '15 picture-retouched',
      '16 page-added',
      '17 picture-recoloured',
      '18 picture-coarse',
      '19 text-changed',
      '20 artwork-changed',
      '24 page-unreadable',
      '25 page-repeated',
    ]);
  });

  it('belong to their page alone: the whole file’s findings to none, a repeated page’s to its own place', () => {
    const all = inPageOrder(SAMPLE_REPORT);
    const kindsAt = SAMPLE_PAGES.map((pair) => findingsAt(all, pair).map(({ kind }) => kind));
    expect(kindsAt.flat()).toHaveLength(all.length - 1);
    expect(kindsAt.at(-1)).toEqual(['page-repeated']);
    expect(kindsAt[2]).toEqual([]);
  });

  it('are gathered under their page with running numbers', () => {
    const places = findingsByPlace(inPageOrder(SAMPLE_REPORT));
    expect(places[0]?.place).toBe('The whole file');
    expect(places[5]?.place).toBe('Page 6 (dummy page 20)');
    expect(places.flatMap(({ own }) => own.map(({ number }) => number))).toEqual(places.map((_, index) => index + 1));
  });

  it('count by what weighs most', () => {
    expect(heaviest([{ weight: 'note' }, { weight: 'stop' }, { weight: 'look' }])).toBe('stop');
    expect(heaviest([{ weight: 'note' }, { weight: 'look' }])).toBe('look');
    expect(heaviest([])).toBeNull();
  });
});

describe('the spreads of a revision', () => {
  const folios = spreadsOf(SAMPLE_PAGES).map(({ bound, loose }) => [
    bound.map(({ pair }) => pair.revisionPage),
    loose.map(({ pair }) => pair.dummyPage),
  ]);

  it('have page 1 alone on the right, then an even page and the odd one after it', () => {
    expect(folios.slice(0, 3)).toEqual([
      [[1], []],
      [[2, 3], []],
      [[4, 5], []],
    ]);
    expect(folios.at(-1)).toEqual([[24, 25], []]);
  });

  it('keep facing pages together where a page is missing between them; it hangs behind', () => {
    expect(folios[6]).toEqual([[12, 13], [13]]);
    expect(spreadsOf([{ dummyPage: 1, revisionPage: null, state: 'missing' }])).toEqual([
      { bound: [], loose: [{ index: 0, pair: { dummyPage: 1, revisionPage: null, state: 'missing' } }] },
    ]);
  });
});
