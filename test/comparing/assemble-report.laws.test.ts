import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assembleReport } from '../../src/comparing/index.ts';
import type { Pairing } from '../../src/comparing/index.ts';
import type { Finding, Report, Weight } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';

const settings = { seed: 20261125 };
const PAGES = 12;
const file = { sha256: 'aa', bytes: 1, pages: PAGES };

/** Pages of the dummy in any order, some missing, some of the revision new. */
const pairing: fc.Arbitrary<Pairing> = fc
  .record({
    order: fc.shuffledSubarray(Array.from({ length: PAGES }, (_, at) => at + 1)),
    added: fc.integer({ min: 0, max: 3 }),
  })
  .map(({ order, added }) => ({
    pairs: order.map((dummyPage, at) => ({
      dummyPage,
      revisionPage: at + 1,
      by: 'likeness' as const,
      turnedDeg: 0 as const,
      emptied: false,
    })),
    missing: Array.from({ length: PAGES }, (_, at) => at + 1).filter((page) => !order.includes(page)),
    added: Array.from({ length: added }, (_, at) => order.length + at + 1),
    repeated: [],
    moved: [],
  }));
const weights = fc.array(fc.constantFrom<Weight>('stop', 'look', 'note'), { minLength: PAGES, maxLength: PAGES });

const artwork = (dummyPage: number, revisionPage: number, weight: Weight): Finding => ({
  kind: 'artwork-changed',
  weight,
  dummyPage,
  revisionPage,
  box: null,
  revisionBox: null,
  measured: { areaMm2: 1 },
  says: 'something',
});

/** Every second dummy page has a finding, of the weight in its turn. */
function assemble(
  pages: Pairing,
  weigh: readonly Weight[],
  covers: (page: number | null) => boolean = () => true,
): Report {
  return assembleReport({
    dummy: file,
    revision: file,
    tolerances: DEFAULT_TOLERANCES,
    renderer: 'a renderer',
    pairing: pages,
    comparisonOf: ({ dummyPage, revisionPage }) => ({
      findings: dummyPage % 2 === 0 ? [artwork(dummyPage, revisionPage, weigh[dummyPage - 1]!)] : [],
      colour: null,
      wantsFine: false,
    }),
    further: [],
    covers: ({ dummyPage }) => covers(dummyPage),
  });
}

describe('a report on any revision', () => {
  it('has every page of both files once', () => {
    fc.assert(
      fc.property(pairing, weights, (given, weigh) => {
        const { pages } = assemble(given, weigh);
        const numbers = (side: 'dummyPage' | 'revisionPage') =>
          pages.flatMap((page) => page[side] ?? []).sort((a, b) => a - b);
        expect(numbers('dummyPage')).toEqual(Array.from({ length: PAGES }, (_, at) => at + 1));
        expect(numbers('revisionPage')).toEqual(
          Array.from({ length: given.pairs.length + given.added.length }, (_, at) => at + 1),
        );
      }),
      settings,
    );
  });

  it('numbers its findings from f1 without gaps, in the order of the dummy’s pages', () => {
    fc.assert(
      fc.property(pairing, weights, (given, weigh) => {
        const { findings } = assemble(given, weigh);
        expect(findings.map(({ id }) => id)).toEqual(findings.map((_, at) => `f${at + 1}`));
        const places = findings.map(({ dummyPage, revisionPage }) => dummyPage ?? revisionPage!);
        expect(places).toEqual([...places].sort((a, b) => a - b));
      }),
      settings,
    );
  });

  it('says that it matches just where nothing stops or wants a look', () => {
    fc.assert(
      fc.property(pairing, weights, (given, weigh) => {
        const { findings, verdict } = assemble(given, weigh);
        expect(verdict).toBe(findings.every(({ weight }) => weight === 'note') ? 'match' : 'differs');
      }),
      settings,
    );
  });

  it('calls a page another just where something on it stops or wants a look', () => {
    fc.assert(
      fc.property(pairing, weights, (given, weigh) => {
        const { pages, findings } = assemble(given, weigh);
        for (const page of pages.filter(({ state }) => state === 'differs' || state === 'same-picture')) {
          const own = findings.filter(({ dummyPage, weight }) => dummyPage === page.dummyPage && weight !== 'note');
          expect(page.state).toBe(own.length > 0 ? 'differs' : 'same-picture');
        }
      }),
      settings,
    );
  });

  it('on some pages says of them what the whole report says', () => {
    fc.assert(
      fc.property(pairing, weights, fc.integer({ min: 1, max: PAGES }), (given, weigh, page) => {
        const [whole, part] = [assemble(given, weigh), assemble(given, weigh, (dummyPage) => dummyPage === page)];
        expect(part.pages).toEqual(whole.pages.filter(({ dummyPage }) => dummyPage === page));
        const without = ({ findings }: Report) => findings.map(({ id: _id, ...finding }) => finding);
        expect(without(part)).toEqual(without(whole).filter(({ dummyPage }) => dummyPage === page));
      }),
      settings,
    );
  });
});
