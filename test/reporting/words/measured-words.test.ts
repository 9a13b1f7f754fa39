import { describe, expect, it } from 'vitest';
import { FINDING_WORDS } from '../../../src/reporting/index.ts';
import { formatCut, measuredFigures } from '../../../src/reporting/words/measured-words.ts';
import { SAMPLE_FINDINGS } from '../sample-findings.ts';

const told = new Map(
  SAMPLE_FINDINGS.map((finding) => [
    finding.kind,
    measuredFigures(finding).map(({ term, value }) => `${term}: ${value}`),
  ]),
);

describe('what was measured, in words', () => {
  it('has a sample of every kind of finding to be read here', () => {
    expect([...told.keys()].sort()).toEqual(Object.keys(FINDING_WORDS).sort());
  });

  it.each([
    ['page-moved', ['Place in the dummy: 20', 'Place in the revision: 6']],
    ['page-missing', []],
    ['page-repeated', ['Stands first as: page 3 of the revision']],
    ['page-resized', ['Trimmed size in the dummy: 210 × 250 mm', 'Trimmed size in the revision: 210 × 242 mm']],
    ['page-turned', ['Turned by: 180° clockwise']],
    ['page-unreadable', ['File: the revision', 'Cause: its content stream ends in the middle of a picture']],
    ['picture-replaced', ['Likeness: 12 %']],
    ['picture-moved', ['Moved: 6.0 mm to the right']],
    ['picture-resized', ['Size: 2.4 % smaller']],
    [
      'crop-altered',
      [
        'Content shifted: 2.4 mm to the left, 0.40 mm down',
        'Content scaled: unchanged',
        'At the left: 2.4 mm lost',
        'At the right: 2.4 mm more',
        'At the bottom: 0.40 mm lost',
        'Certain to: ± 0.04 mm',
        'Decided by: the pixels',
      ],
    ],
    ['picture-turned', ['Turned by: 0.8° anticlockwise']],
    ['picture-mirrored', ['Mirrored: left for right']],
    ['picture-retouched', ['Area: 81.7 mm²']],
    ['picture-recoloured', ['Mean colour difference: 14.2 (CIEDE2000)', 'Worst colour difference: 31.9 (CIEDE2000)']],
    ['picture-coarse', ['Resolution at this size: 100 ppi', 'Limit: 200 ppi']],
    ['text-changed', ['In the dummy: “Harbour at Nagasaki, 1887”', 'In the revision: “Harbour at Nagasaki, 1881”']],
    ['artwork-changed', ['Area: 51 mm²']],
  ] as const)('%s', (kind, words) => expect(told.get(kind)).toEqual(words));

  it('an edge that shows more is not called lost', () => {
    expect([formatCut(1.25), formatCut(-0.8)]).toEqual(['1.3 mm lost', '0.80 mm more']);
  });

  it('words that are gone on one side are called nothing, not an empty quotation', () => {
    const finding = SAMPLE_FINDINGS.find(({ kind }) => kind === 'text-changed');
    expect(finding?.kind).toBe('text-changed');
    if (finding?.kind !== 'text-changed') return;
    const gone = measuredFigures({ ...finding, measured: { before: 'winters', after: '' } });
    expect(gone.map(({ value }) => value)).toEqual(['“winters”', 'nothing']);
  });
});
