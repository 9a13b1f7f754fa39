import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxAround, clusterWords } from '../../../src/comparing/text/word-clusters.ts';
import { inReadingOrder } from '../../../src/comparing/text/reading-order.ts';
import type { Box, Word } from '../../../src/model/index.ts';
import { setLine } from '../set-type.ts';

const settings = { seed: 20261125, numRuns: 60 };

/** Words anywhere on a page, some close to each other. */
const words: fc.Arbitrary<Word[]> = fc
  .array(
    fc.record({
      text: fc.constantFrom('ja', 'nein', 'am hafen', 'riva'),
      x: fc.integer({ min: 0, max: 90 }),
      baseline: fc.integer({ min: 5, max: 60 }),
      sizePt: fc.constantFrom(7, 10, 18),
    }),
    { maxLength: 14 },
  )
  .map((lines) => lines.flatMap((line) => setLine(line).words));

/** Nearer than seven tenths of a type size, both ways; the margins of both count. */
function near(one: Word, other: Word): boolean {
  const margin = ({ sizePt }: Word) => (0.35 * sizePt * 25.4) / 72;
  const gap = margin(one) + margin(other);
  const apart = (from: keyof Box & ('x' | 'y'), size: 'width' | 'height') =>
    Math.max(one.box[from], other.box[from]) -
    Math.min(one.box[from] + one.box[size], other.box[from] + other.box[size]);
  return apart('x', 'width') < gap && apart('y', 'height') < gap;
}

/** The plain twin: groups that share a pair of near words become one, until none do. */
function gatheredByHand(all: readonly Word[]): Word[][] {
  let groups = all.map((word) => [word]);
  for (let joined = true; joined;) {
    joined = false;
    for (let i = 0; i < groups.length && !joined; i++) {
      const j = groups.findIndex(
        (group, at) => at > i && group.some((word) => groups[i]!.some((other) => near(word, other))),
      );
      if (j < 0) continue;
      groups[i]!.push(...groups[j]!);
      groups = groups.filter((_, at) => at !== j);
      joined = true;
    }
  }
  return groups;
}

const named = (groups: readonly (readonly Word[])[], all: readonly Word[]) =>
  groups
    .map((group) =>
      group
        .map((word) => all.indexOf(word))
        .sort((a, b) => a - b)
        .join(' '),
    )
    .sort();

describe('changed words, wherever they stand', () => {
  it('are gathered as joining near ones by hand gathers them', () => {
    fc.assert(
      fc.property(words, words, (dummy, revision) => {
        const all = [...dummy, ...revision];
        const found = clusterWords(dummy, revision).map((cluster) => [...cluster.dummy, ...cluster.revision]);
        expect(named(found, all)).toEqual(named(gatheredByHand(all), all));
      }),
      settings,
    );
  });

  it('stay on the side they came from, each in one place', () => {
    fc.assert(
      fc.property(words, words, (dummy, revision) => {
        const clusters = clusterWords(dummy, revision);
        expect(clusters.flatMap((cluster) => cluster.dummy).length).toBe(dummy.length);
        expect(new Set(clusters.flatMap((cluster) => cluster.dummy))).toEqual(new Set(dummy));
        expect(new Set(clusters.flatMap((cluster) => cluster.revision))).toEqual(new Set(revision));
      }),
      settings,
    );
  });

  it('lie all within the box around them, which is no larger than it must be', () => {
    fc.assert(
      fc.property(words, (all) => {
        fc.pre(all.length > 0);
        const box = boxAround(all)!;
        const right = Math.max(...all.map((word) => word.box.x + word.box.width));
        const bottom = Math.max(...all.map((word) => word.box.y + word.box.height));
        expect(box.x).toBe(Math.min(...all.map((word) => word.box.x)));
        expect(box.y).toBe(Math.min(...all.map((word) => word.box.y)));
        expect(box.x + box.width).toBeCloseTo(right, 9);
        expect(box.y + box.height).toBeCloseTo(bottom, 9);
      }),
      settings,
    );
  });
});

describe('the reading order of any words', () => {
  it('loses none, and is the order it had already when it is read again', () => {
    fc.assert(
      fc.property(words, (all) => {
        const once = inReadingOrder(all);
        expect(new Set(once)).toEqual(new Set(all));
        expect(inReadingOrder(once)).toEqual(once);
      }),
      settings,
    );
  });
});
