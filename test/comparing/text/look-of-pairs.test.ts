import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import { findOtherLooks } from '../../../src/comparing/text/look-of-pairs.ts';
import { matchWords } from '../../../src/comparing/text/match-words.ts';
import type { Box, Finding } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { TypeLine } from '../set-type.ts';
import { drawPage } from '../sketched-page.ts';

const SIZE = { width: 60, height: 34 };
const TEXT = ['der alte hafen von', 'riva am abend im', 'september'];

/** Two paragraphs, far apart. */
const lines = (given: Partial<TypeLine> = {}, below: Partial<TypeLine> = given): TypeLine[] => [
  ...TEXT.slice(0, 2).map((text, at) => ({ text, x: 4, baseline: 7 + 5 * at, ...given })),
  { text: TEXT[2]!, x: 4, baseline: 30, ...below },
];

function looks(
  dummy: readonly TypeLine[],
  revision: readonly TypeLine[],
  pictures: readonly Box[] = [],
  given = {},
): readonly Finding[] {
  const sides = {
    dummy: preparePage(drawPage({ size: SIZE, lines: dummy })),
    revision: preparePage(drawPage({ size: SIZE, lines: revision })),
  };
  const { pairs } = matchWords(sides.dummy.facts.words, sides.revision.facts.words, 1);
  const about = { dummyPage: 1, revisionPage: 1 };
  return findOtherLooks(pairs, sides, about, pictures, { ...DEFAULT_TOLERANCES, ...given }).findings;
}

const says = (findings: readonly Finding[]) => findings.map((finding) => finding.says);

describe('words that read the same at the same place', () => {
  it('look the same in the same font, and under another name of it', () => {
    expect(looks(lines(), lines())).toEqual([]);
    expect(looks(lines(), lines({ font: 'Serif-Book' }))).toEqual([]);
  });

  it('look the same a part of a millimetre further on', () => {
    expect(looks(lines(), lines({ x: 4.3 }))).toEqual([]);
  });

  it('look otherwise in another font, told for each place where they stand', () => {
    expect(says(looks(lines(), lines({ font: 'Sans', shapes: 'sans' })))).toEqual([
      'The type looks different (Serif became Sans): “der alte hafen von riva am abend im”.',
      'The type looks different (Serif became Sans): “september”.',
    ]);
  });

  it('look otherwise in one of two fonts that changed: only that one is told', () => {
    const other = lines({ font: 'Serif-Book' }, { font: 'Sans', shapes: 'sans' });
    expect(says(looks(lines(), other))).toEqual(['The type looks different (Serif became Sans): “september”.']);
  });

  it('look otherwise in another size, with both sizes', () => {
    expect(says(looks(lines(), lines({}, { sizePt: 9 })))).toEqual([
      'The type looks different (10.0 pt became 9.0 pt): “september”.',
    ]);
  });

  it('look otherwise where a missing font was replaced under its own name', () => {
    expect(says(looks(lines(), lines({}, { shapes: 'sans' })))).toEqual([
      'The type looks different (its shapes): “september”.',
    ]);
  });

  it('are not judged over a picture', () => {
    const over = { x: 0, y: 0, width: 60, height: 15 };
    expect(says(looks(lines(), lines({ font: 'Sans', shapes: 'sans' }), [over]))).toEqual([
      'The type looks different (Serif became Sans): “september”.',
    ]);
  });

  it('are not told where they are smaller than the least piece of artwork', () => {
    expect(looks(lines(), lines({ shapes: 'sans' }), [], { artworkMm2: 5000 })).toEqual([]);
  });

  it('are told on both pages, in both places', () => {
    const [finding] = looks(lines(), lines({}, { shapes: 'sans', x: 4.4 }));
    expect(finding!.revisionBox!.x - finding!.box!.x).toBeCloseTo(0.4, 9);
  });

  it('are none on a page without words', () => expect(looks([], [])).toEqual([]));
});
