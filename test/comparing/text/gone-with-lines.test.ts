import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import { compareText } from '../../../src/comparing/text/compare-text.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { drawFine, drawPage } from '../sketched-page.ts';

const SIZE = { width: 84, height: 34 };
const set = (...texts: readonly string[]) => texts.map((text, at) => ({ text, x: 5, baseline: 8 + 8 * at }));

/** A page that tells words, and one that shows its own in outlines; the words of each finding. */
function told(before: readonly string[], after: readonly string[]): readonly unknown[] {
  const [dummy, revision] = [
    { size: SIZE, lines: set(...before) },
    { size: SIZE, outlined: set(...after) },
  ];
  const sides = { dummy: preparePage(drawPage(dummy)), revision: preparePage(drawPage(revision)) };
  const { findings } = compareText(sides, drawFine(dummy, revision), [], DEFAULT_TOLERANCES);
  return findings.map(({ measured }) => ('before' in measured ? measured.before : null));
}

describe('a line of outlines that became shorter', () => {
  it('by a word in its middle is one finding: its end is empty since all moved up', () => {
    expect(told(['der alte hafen von riva'], ['der hafen von riva'])).toEqual(['alte hafen von riva']);
  });

  it('by its last word alone has lost that word', () => {
    expect(told(['der alte hafen von riva'], ['der alte hafen von'])).toEqual(['riva']);
  });

  it('tells a lost word for itself where unchanged ones stand between', () => {
    expect(told(['der alte hafen von riva'], ['dem alte hafen von'])).toEqual(['riva', 'der']);
  });

  it('takes no word of another line along', () => {
    expect(told(['der alte hafen', 'von riva am see'], ['der hafen', 'von riva am'])).toEqual(['see', 'alte hafen']);
  });
});
