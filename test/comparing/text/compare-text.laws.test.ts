import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import { compareText } from '../../../src/comparing/text/compare-text.ts';
import type { Finding } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { chanceFrom } from '../pairing/made-up-pages.ts';
import type { TypeLine } from '../set-type.ts';
import { drawPage } from '../sketched-page.ts';

const settings = { seed: 20261125, numRuns: 25 };
const SIZE = { width: 60, height: 26 };
const LETTERS = 'abcdefghiklmnoprstuvwz';

/** A paragraph of three lines; another one for each seed, with no word twice. */
function paragraph(seed: number): string[][] {
  const chance = chanceFrom(seed * 77 + 5);
  const letter = () => LETTERS[Math.floor(chance() * LETTERS.length)]!;
  return Array.from({ length: 3 }, (_, line) =>
    Array.from(
      { length: 3 },
      (_value, nth) => `${letter()}${letter()}${letter()}${letter()}${LETTERS[3 * line + nth]!}`,
    ),
  );
}

const linesOf = (words: readonly (readonly string[])[], given: Partial<TypeLine> = {}): TypeLine[] =>
  words.map((line, at) => ({ text: line.join(' '), x: 4, baseline: 7 + 6 * at, ...given }));

function compare(before: readonly TypeLine[], after: readonly TypeLine[], shuffle = 0): readonly Finding[] {
  const [dummy, revision] = [drawPage({ size: SIZE, lines: before }), drawPage({ size: SIZE, lines: after })];
  const chance = chanceFrom(shuffle);
  const words = [...revision.facts.words];
  if (shuffle > 0) words.sort(() => chance() - 0.5);
  const shuffled = { ...revision, facts: { ...revision.facts, words } };
  const sides = { dummy: preparePage(dummy), revision: preparePage(shuffled) };
  return compareText(sides, null, [], DEFAULT_TOLERANCES).findings;
}

const place = fc.record({
  seed: fc.integer({ min: 1, max: 1000 }),
  line: fc.integer({ min: 0, max: 2 }),
  word: fc.integer({ min: 0, max: 2 }),
  letter: fc.integer({ min: 0, max: 3 }),
  other: fc.constantFrom(...LETTERS, '7', 'é'),
});

/** The paragraph with one letter of one word exchanged. */
function misprinted({
  seed,
  line,
  word,
  letter,
  other,
}: {
  seed: number;
  line: number;
  word: number;
  letter: number;
  other: string;
}) {
  const before = paragraph(seed);
  const was = before[line]![word]!;
  const is = was.slice(0, letter) + other + was.slice(letter + 1);
  const after = before.map((words, at) => (at === line ? words.map((one, nth) => (nth === word ? is : one)) : words));
  return { before, after, was, is };
}

describe('whatever a paragraph says', () => {
  it('the same paragraph has no findings, in whatever order the file tells its words', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), fc.integer({ min: 1, max: 99 }), (seed, shuffle) => {
        const words = paragraph(seed);
        expect(compare(linesOf(words), linesOf(words), shuffle)).toEqual([]);
      }),
      settings,
    );
  });

  it('one letter that changed, anywhere, is one finding that quotes the two words', () => {
    fc.assert(
      fc.property(place, (given) => {
        const { before, after, was, is } = misprinted(given);
        fc.pre(was !== is);
        const found = compare(linesOf(before), linesOf(after));
        expect(found.map(({ measured }) => measured)).toEqual([{ before: was, after: is }]);
      }),
      settings,
    );
  });

  it('swapped files tell the same change the other way round', () => {
    fc.assert(
      fc.property(place, (given) => {
        const { before, after, was, is } = misprinted(given);
        fc.pre(was !== is);
        const [there] = compare(linesOf(before), linesOf(after));
        const [back] = compare(linesOf(after), linesOf(before));
        expect(there!.measured).toEqual({ before: was, after: is });
        expect(back!.measured).toEqual({ before: is, after: was });
        expect([back!.box, back!.revisionBox]).toEqual([there!.revisionBox, there!.box]);
      }),
      settings,
    );
  });

  it('moved as a whole by more than the tolerance it is one finding, by less it is none', () => {
    const way = fc.record({
      x: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
      y: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), way, (seed, { x, y }) => {
        const far = Math.hypot(x, y);
        fc.pre(Math.abs(far - DEFAULT_TOLERANCES.textPlaceMm) > 0.02);
        const before = linesOf(paragraph(seed));
        const after = before.map((line) => ({ ...line, x: line.x + x, baseline: line.baseline + y }));
        const found = compare(before, after);
        expect(found.length).toBe(far > DEFAULT_TOLERANCES.textPlaceMm ? 1 : 0);
        for (const { says } of found) expect(says).toMatch(/^Type moved /);
      }),
      settings,
    );
  });
});
