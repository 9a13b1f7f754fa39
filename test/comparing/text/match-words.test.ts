import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { matchWords } from '../../../src/comparing/text/match-words.ts';
import type { Word } from '../../../src/model/index.ts';
import { setLine } from '../set-type.ts';

const REACH = 0.35;
const line = (text: string, x = 10, baseline = 20) => setLine({ text, x, baseline }).words;
const told = (words: readonly Word[]) => words.map(({ text }) => text).join(' ');

describe('words of two files', () => {
  it('that read the same and start at the same place are the same words', () => {
    const [before, after] = [line('am alten hafen'), line('am alten hafen', 10.2, 20.1)];
    expect(matchWords(before, after, REACH)).toEqual({
      pairs: before.map((dummy, at) => ({ dummy, revision: after[at] })),
      dummyOnly: [],
      revisionOnly: [],
    });
  });

  it('are left over where they read otherwise', () => {
    const match = matchWords(line('am alten hafen'), line('am alter hafen'), REACH);
    expect([told(match.dummyOnly), told(match.revisionOnly), match.pairs.length]).toEqual(['alten', 'alter', 2]);
  });

  it('are left over where they start beyond the reach, in any direction', () => {
    for (const [x, y] of [
      [10.4, 20],
      [9.6, 20],
      [10, 20.4],
      [10.3, 19.7],
    ] as const) {
      const match = matchWords(line('hafen'), line('hafen', x, y), REACH);
      expect([told(match.dummyOnly), told(match.revisionOnly)]).toEqual(['hafen', 'hafen']);
    }
  });

  it('are the same words at the very end of the reach', () => {
    expect(matchWords(line('hafen', 10), line('hafen', 10.5), 0.5).pairs).toHaveLength(1);
  });

  it('that stand more than once find the nearest of their kind, and each only once', () => {
    const before = [...line('ja', 10, 20), ...line('ja', 10.3, 20)];
    const after = [...line('ja', 10.3, 20), ...line('ja', 10, 20)];
    const match = matchWords(before, after, REACH);
    expect(match.pairs.map(({ dummy, revision }) => [dummy.origin.x, revision.origin.x])).toEqual([
      [10, 10],
      [10.3, 10.3],
    ]);
    const once = matchWords(before, line('ja', 10, 20), REACH);
    expect([once.pairs.length, once.dummyOnly.length, once.revisionOnly.length]).toEqual([1, 1, 0]);
  });

  it('tell a capital, an accent and a stop apart', () => {
    for (const [one, other] of [
      ['Hafen', 'hafen'],
      ['café', 'cafe'],
      ['ende.', 'ende'],
    ] as const) {
      expect(matchWords(line(one), line(other), REACH).pairs).toEqual([]);
    }
  });

  it('of which one file has none are all left over', () => {
    expect(matchWords(line('am hafen'), [], REACH)).toMatchObject({ pairs: [], revisionOnly: [] });
    expect(told(matchWords([], line('am hafen'), REACH).revisionOnly)).toBe('am hafen');
  });
});

describe('whatever stands on two pages', () => {
  const words = fc
    .array(
      fc.record({
        text: fc.constantFrom('ja', 'nein', 'hafen', 'mole'),
        x: fc.integer({ min: 0, max: 6 }),
        baseline: fc.integer({ min: 0, max: 6 }),
      }),
      { maxLength: 12 },
    )
    .map((given) => given.flatMap((at) => setLine(at).words));

  it('every word is matched once or left over once, and a match reads the same within the reach', () => {
    fc.assert(
      fc.property(words, words, fc.constantFrom(0.5, 1.5, 3), (dummy, revision, reach) => {
        const { pairs, dummyOnly, revisionOnly } = matchWords(dummy, revision, reach);
        const inOrder = (all: readonly Word[]) => all.map((word) => JSON.stringify(word)).sort();
        expect(inOrder([...pairs.map((pair) => pair.dummy), ...dummyOnly])).toEqual(inOrder(dummy));
        expect(inOrder([...pairs.map((pair) => pair.revision), ...revisionOnly])).toEqual(inOrder(revision));
        for (const pair of pairs) {
          const { x, y } = pair.dummy.origin;
          expect(pair.revision.text).toBe(pair.dummy.text);
          expect(Math.hypot(pair.revision.origin.x - x, pair.revision.origin.y - y)).toBeLessThanOrEqual(reach);
        }
      }),
      { seed: 20261125 },
    );
  });

  it('a page matched with itself leaves nothing over', () => {
    fc.assert(
      fc.property(words, (page) => {
        const { pairs, dummyOnly, revisionOnly } = matchWords(page, page, 0.5);
        expect([pairs.length, dummyOnly.length, revisionOnly.length]).toEqual([page.length, 0, 0]);
      }),
      { seed: 20261125 },
    );
  });
});
