import { describe, expect, it } from 'vitest';
import { assembleReport } from '../../src/comparing/index.ts';
import type { PageComparison, PairedPages, Pairing } from '../../src/comparing/index.ts';
import type { Finding, FindingOf, Report, Weight } from '../../src/model/index.ts';
import { CAUTIONS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';

const FILES = {
  dummy: { sha256: 'aa', bytes: 100, pages: 5 },
  revision: { sha256: 'bb', bytes: 900, pages: 6 },
};
const pair = (dummyPage: number, revisionPage: number, given: Partial<PairedPages> = {}): PairedPages => ({
  dummyPage,
  revisionPage,
  by: 'likeness',
  turnedDeg: 0,
  emptied: false,
  ...given,
});
const quiet: Pairing = { pairs: [], missing: [], added: [], repeated: [], moved: [] };

const artwork = (dummyPage: number, revisionPage: number, weight: Weight = 'stop'): FindingOf<'artwork-changed'> => ({
  kind: 'artwork-changed',
  weight,
  dummyPage,
  revisionPage,
  box: null,
  revisionBox: null,
  measured: { areaMm2: 2 },
  says: `artwork of page ${dummyPage}`,
});
const noteOnFile: FindingOf<'picture-coarse'> = {
  kind: 'picture-coarse',
  weight: 'note',
  dummyPage: null,
  revisionPage: null,
  box: null,
  revisionBox: null,
  measured: { ppi: 100, limitPpi: 200 },
  says: 'a low-resolution file',
};

interface Given {
  readonly pairing?: Partial<Pairing>;
  /** Findings of a pair, by its dummy page. */
  readonly found?: Readonly<Record<number, readonly Finding[]>>;
  readonly colour?: PageComparison['colour'];
  readonly further?: readonly Finding[];
  readonly covers?: (page: { dummyPage: number | null; revisionPage: number | null }) => boolean;
}

function assemble({ pairing = {}, found = {}, colour = null, further = [], covers = () => true }: Given): Report {
  return assembleReport({
    ...FILES,
    tolerances: DEFAULT_TOLERANCES,
    renderer: 'a renderer 1.0',
    pairing: { ...quiet, ...pairing },
    comparisonOf: ({ dummyPage, by }) =>
      by === 'content' ? null : { findings: found[dummyPage] ?? [], colour, wantsFine: false },
    further,
    covers,
  });
}

const told = ({ findings }: Report) =>
  findings.map(({ id, kind, dummyPage, revisionPage }) => [id, kind, dummyPage, revisionPage]);
const states = ({ pages }: Report) =>
  pages.map(({ dummyPage, revisionPage, state }) => [dummyPage, revisionPage, state]);

describe('a report', () => {
  it('on a revision that matches is whole, and says so', () => {
    expect(assemble({ pairing: { pairs: [pair(1, 1, { by: 'content' }), pair(2, 2)] } })).toEqual({
      format: 'witnessleaf-report/1',
      ...FILES,
      tolerances: DEFAULT_TOLERANCES,
      pages: [
        { dummyPage: 1, revisionPage: 1, state: 'same-content' },
        { dummyPage: 2, revisionPage: 2, state: 'same-picture' },
      ],
      findings: [],
      verdict: 'match',
      renderer: 'a renderer 1.0',
      cautions: CAUTIONS,
    });
  });

  it('numbers its findings in page order, added pages by their place in the revision, whole files last', () => {
    const report = assemble({
      pairing: {
        pairs: [pair(1, 1), pair(4, 2), pair(2, 3), pair(5, 6)],
        moved: [{ dummyPage: 4, revisionPage: 2, fromPosition: 4, toPosition: 2 }],
        missing: [3],
        added: [4],
        repeated: [{ dummyPage: 1, revisionPage: 5, firstAt: 1 }],
      },
      found: { 2: [artwork(2, 3)], 5: [artwork(5, 6), artwork(5, 6)] },
      further: [noteOnFile],
    });
    expect(told(report)).toEqual([
      ['f1', 'page-repeated', 1, 5],
      ['f2', 'artwork-changed', 2, 3],
      ['f3', 'page-missing', 3, null],
      ['f4', 'page-moved', 4, 2],
      ['f5', 'page-added', null, 4],
      ['f6', 'artwork-changed', 5, 6],
      ['f7', 'artwork-changed', 5, 6],
      ['f8', 'picture-coarse', null, null],
    ]);
    expect(states(report)).toEqual([
      [1, 1, 'same-picture'],
      [4, 2, 'same-picture'],
      [2, 3, 'differs'],
      [3, null, 'missing'],
      [null, 4, 'added'],
      [1, 5, 'repeated'],
      [5, 6, 'differs'],
    ]);
  });
});

describe('the state of a page', () => {
  it.each<[string, PairedPages, readonly Finding[], string]>([
    ['of equal content is that', pair(1, 1, { by: 'content' }), [], 'same-content'],
    ['of other data without findings is the same picture', pair(1, 1), [], 'same-picture'],
    ['with a finding that stops is another', pair(1, 1), [artwork(1, 1)], 'differs'],
    ['with a finding that wants a look is another', pair(1, 1), [artwork(1, 1, 'look')], 'differs'],
    ['with nothing but notes is the same picture', pair(1, 1), [artwork(1, 1, 'note')], 'same-picture'],
    [
      'that was turned is another, though its content is equal',
      pair(1, 1, { by: 'content', turnedDeg: 90 }),
      [],
      'differs',
    ],
    ['that was emptied is another', pair(1, 1, { by: 'place', emptied: true }), [], 'differs'],
  ])('%s', (_, paired, found, state) => {
    expect(states(assemble({ pairing: { pairs: [paired] }, found: { 1: found } }))).toEqual([[1, 1, state]]);
  });

  it('that only moved is not another: its place is told by the move', () => {
    const moved = [{ dummyPage: 2, revisionPage: 1, fromPosition: 2, toPosition: 1 }];
    const report = assemble({
      pairing: { pairs: [pair(2, 1, { by: 'content' }), pair(1, 2, { by: 'content' })], moved },
    });
    expect(states(report)).toEqual([
      [2, 1, 'same-content'],
      [1, 2, 'same-content'],
    ]);
    expect(report.verdict).toBe('differs');
  });

  it('is another by a finding from outside the comparison, such as a coarse picture', () => {
    const coarse = { ...noteOnFile, weight: 'look' as const, dummyPage: 1, revisionPage: 1 };
    expect(states(assemble({ pairing: { pairs: [pair(1, 1)] }, further: [coarse] }))).toEqual([[1, 1, 'differs']]);
  });
});

describe('the verdict', () => {
  it.each<[string, readonly Finding[], string]>([
    ['matches without findings', [], 'match'],
    ['matches with nothing but notes', [noteOnFile, artwork(1, 1, 'note')], 'match'],
    ['differs where something wants a look', [artwork(1, 1, 'look')], 'differs'],
    ['differs where something stops', [noteOnFile, artwork(1, 1)], 'differs'],
  ])('%s', (_, further, verdict) => {
    expect(assemble({ pairing: { pairs: [pair(1, 1)] }, further }).verdict).toBe(verdict);
  });
});

describe('the size of the conversion', () => {
  const colour = { meanDeltaE00: 1.5, worstDeltaE00: 4 };

  it('stands with each pair that was compared', () => {
    const { pages } = assemble({ pairing: { pairs: [pair(1, 1), pair(2, 2)] }, found: { 2: [artwork(2, 2)] }, colour });
    expect(pages).toEqual([
      { dummyPage: 1, revisionPage: 1, state: 'same-picture', colour },
      { dummyPage: 2, revisionPage: 2, state: 'differs', colour },
    ]);
  });

  it('stands nowhere else', () => {
    const pairing = { pairs: [pair(1, 1, { by: 'content' as const })], missing: [2], added: [2] };
    expect(assemble({ pairing, colour }).pages.map((page) => 'colour' in page)).toEqual([false, false, false]);
    expect('colour' in assemble({ pairing: { pairs: [pair(1, 1)] } }).pages[0]!).toBe(false);
  });
});

describe('a report on some of the pages', () => {
  it('has their states and findings alone, and its verdict is about them', () => {
    const given = {
      pairing: { pairs: [pair(1, 1), pair(2, 2), pair(3, 3)], missing: [4] },
      found: { 1: [artwork(1, 1)], 3: [artwork(3, 3)] },
    };
    const some = assemble({ ...given, covers: ({ dummyPage }) => dummyPage === 2 || dummyPage === 3 });
    expect(states(some)).toEqual([
      [2, 2, 'same-picture'],
      [3, 3, 'differs'],
    ]);
    expect(told(some)).toEqual([['f1', 'artwork-changed', 3, 3]]);
    const one = assemble({ ...given, covers: ({ dummyPage }) => dummyPage === 2 });
    expect([one.findings, one.verdict]).toEqual([[], 'match']);
  });
});
