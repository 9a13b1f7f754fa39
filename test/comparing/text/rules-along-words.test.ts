import { describe, expect, it } from 'vitest';
import { comparePages } from '../../../src/comparing/compare-pages.ts';
import { UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import type { Box, Finding } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { even } from '../made-up-scenes.ts';
import type { TypeLine } from '../set-type.ts';
import { drawPage } from '../sketched-page.ts';

const SIZE = { width: 80, height: 40 };
const LINES: readonly TypeLine[] = ['der alte hafen von riva', 'am abend im september', 'foto von der mole'].map(
  (text, at) => ({ text, x: 5, baseline: 12 + 7 * at }),
);
const MM_PER_PT = 25.4 / 72;

interface Drawn {
  readonly rule?: Box;
  readonly lines?: readonly TypeLine[];
}

function compare(dummy: Drawn, revision: Drawn): readonly Finding[] {
  const draw = ({ rule, lines = LINES }: Drawn) =>
    drawPage({
      size: SIZE,
      lines,
      artwork: rule === undefined ? [] : [{ box: rule, scene: even(0, 0, 0) }],
    });
  const task = { dummy: draw(dummy), revision: draw(revision), fine: null, bookConversion: UNCHANGED };
  return comparePages(task, DEFAULT_TOLERANCES).findings;
}

const told = (findings: readonly Finding[]) => findings.map(({ kind, says }) => [kind, says]);
const ON_THE_SECOND = [['text-changed', 'The type looks different (a rule on it): “am abend im september”.']];

/** Along the second line, which has its baseline at 19 mm. */
const rule = (above: number, sizePt: number, x = 5, width = 44.5): Box => ({
  x,
  y: 19 - above,
  width,
  height: sizePt * MM_PER_PT,
});

describe('a rule on a line of type is told once', () => {
  it.each<[string, Box]>([
    ['that strikes it out in 1 pt', rule(1.2, 1)],
    ['that strikes it out in half a point', rule(1.2, 0.5)],
    ['that strikes it out and stands a little beyond', rule(1.2, 0.75, 4, 46.5)],
    ['that strikes it out and runs on across the page', rule(1.2, 0.75, 2, 76)],
    ['that underlines it in half a point', rule(-0.4, 0.5)],
    ['that underlines it at the edge of the letters’ box', rule(-0.8, 0.5)],
    ['of 3 pt, that hides much of the letters', rule(1.8, 3)],
  ])('%s', (_, drawn) => {
    const found = compare({}, { rule: drawn });
    expect(found.map(({ kind }) => kind)).toEqual(['text-changed']);
    expect(found[0]!.says).toContain('“am abend im september”');
    expect(compare({ rule: drawn }, {}).map(({ kind }) => kind)).toEqual(['text-changed']);
  });

  it('in so many words', () => {
    expect(told(compare({}, { rule: rule(1.2, 0.75) }))).toEqual(ON_THE_SECOND);
  });

  it('under a word alone', () => {
    expect(told(compare({}, { rule: rule(-0.4, 0.5, 11.3, 10.6) }))).toEqual([
      ['text-changed', 'The type looks different (a rule on it): “abend”.'],
    ]);
  });
});

describe('no rule is told', () => {
  it.each<[string, Drawn, Drawn]>([
    ['where both pages have it', { rule: rule(1.2, 0.75) }, { rule: rule(1.2, 0.75) }],
    ['where nothing changed', {}, {}],
    [
      'where type sits a part of a pixel off',
      {},
      { lines: LINES.map((line) => ({ ...line, x: 5.1, baseline: line.baseline + 0.08 })) },
    ],
    ['where black became a dark grey', {}, { lines: LINES.map((line) => ({ ...line, ink: even(45, 45, 48) })) }],
  ])('%s', (_, dummy, revision) => {
    expect(compare(dummy, revision)).toEqual([]);
  });
});
