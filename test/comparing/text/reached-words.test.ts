import { describe, expect, it } from 'vitest';
import type { TypeLine } from '../set-type.ts';
import { toldOfOutlines } from './told-of-outlines.ts';

const SIZE = { width: 60, height: 34 };
const TEXT = ['der alte hafen von riva', 'am abend im september', 'foto von der mole aus'];
/** 10 pt on 13 pt: a line that moves by more than a millimetre reaches into the box of its neighbour. */
const paragraph = (texts: readonly string[], secondDownMm = 0): TypeLine[] =>
  texts.map((text, at) => ({ text, x: 5, baseline: 8 + 4.6 * at + (at === 1 ? secondDownMm : 0) }));

/** Of a page that tells words and one that shows the same in outlines; told for each finding, the words before. */
function told(before: readonly TypeLine[], after: readonly TypeLine[], outlined: 'dummy' | 'revision' = 'revision') {
  const findings = toldOfOutlines(SIZE, before, after, outlined);
  return findings.map(({ measured }) => ('before' in measured ? measured : null));
}

describe('a line of outlines that moved into its neighbour', () => {
  it.each([1.4, 1.9, -1.4])('by %d mm is told alone', (downMm) => {
    expect(told(paragraph(TEXT), paragraph(TEXT, downMm))).toEqual([{ before: TEXT[1], after: TEXT[1] }]);
  });

  it('is told alone where the later file has the words', () => {
    expect(told(paragraph(TEXT), paragraph(TEXT, 1.4), 'dummy')).toEqual([{ before: TEXT[1], after: TEXT[1] }]);
  });

  it('hides no letter that changed below it', () => {
    const after = paragraph([TEXT[0]!, TEXT[1]!, 'foto von der male aus'], 1.4);
    expect(told(paragraph(TEXT), after)).toEqual([
      { before: TEXT[1], after: TEXT[1] },
      { before: 'mole', after: '' },
    ]);
  });

  it('is no line that reads differently in its place', () => {
    expect(told(paragraph(TEXT), paragraph([TEXT[0]!, 'am abend im dezember', 'foto von der male aus']))).toEqual([
      { before: 'september', after: '' },
      { before: 'mole', after: '' },
    ]);
  });
});
