import { describe, expect, it } from 'vitest';
import { findingLines } from '../../src/command/finding-lines.ts';
import { columnsOf, fill, wrap } from '../../src/command/wrap.ts';
import type { Report } from '../../src/model/index.ts';
import { SAMPLE_REPORT } from '../reporting/sample-book.ts';
import { fakeDesk } from './fake-desk.ts';

const ESCAPE = '\u001b';
const crop: Report = {
  ...SAMPLE_REPORT,
  findings: SAMPLE_REPORT.findings.filter(({ kind }) => kind === 'crop-altered'),
};

describe('findings where nobody looks', () => {
  const lines = findingLines(SAMPLE_REPORT, fakeDesk().desk.out);

  it('are one plain line each, in page order, parted by tabs', () => {
    expect(lines).toHaveLength(22);
    expect(lines[0]).toBe(
      'note\tthe whole file\tpicture-coarse\tThe dummy’s pictures are low-resolution by intent: 100 ppi.',
    );
    expect(lines[5]).toBe('stop\tpage 6 (dummy page 20)\tpage-moved\tPage 20 of the dummy now stands at place 6.');
  });

  it('hold no control codes, whatever a file’s text tries', () => {
    const [finding] = crop.findings;
    if (finding === undefined) throw new Error('the sample has a crop');
    const hostile = { ...crop, findings: [{ ...finding, says: `${ESCAPE}]0;x\u0007\n\tsecond line` }] };
    expect(findingLines(hostile, fakeDesk().desk.out)).toEqual([
      'stop\tpage 4\tcrop-altered\t[U+001B]]0;x[U+0007] second line',
    ]);
  });
});

describe('findings on a terminal', () => {
  it('are a table; sentences wrap below their heading and no line is wider than the terminal', () => {
    const { desk } = fakeDesk({ isTerminal: true, columns: 80, env: { NO_COLOR: '1' } });
    expect(findingLines(crop, desk.out)).toEqual([
      '        Where   What',
      '  stop  page 4  Crop altered',
      '                The content slipped 2.4 mm to the left in its window: 2.4 mm',
      '                are lost at the left, 2.4 mm more show at the right.',
    ]);
  });

  it.each([40, 60, 72, 80, 200])('fit a width of %d', (columns) => {
    const { desk } = fakeDesk({ isTerminal: true, columns, env: { NO_COLOR: '1' } });
    const lines = findingLines(SAMPLE_REPORT, desk.out);
    expect(lines.filter((line) => columnsOf(line) >= columns)).toEqual([]);
    expect(lines.join(' ').replaceAll(/\s+/g, ' ')).toContain('Page 20 of the dummy now stands at place 6.');
  });

  it('go below each other on a narrow one', () => {
    const { desk } = fakeDesk({ isTerminal: true, columns: 44, env: { NO_COLOR: '1' } });
    expect(findingLines(crop, desk.out).slice(0, 3)).toEqual([
      'stop  page 4: Crop altered',
      '  The content slipped 2.4 mm to the left in',
      '  its window: 2.4 mm are lost at the left,',
    ]);
  });

  it.each([
    ['in colour', {}, true],
    ['without where NO_COLOR is set', { NO_COLOR: '1' }, false],
    ['without on a dumb terminal', { TERM: 'dumb' }, false],
  ])('are printed %s', (_, env, hasColour) => {
    const { desk } = fakeDesk({ isTerminal: true, env });
    expect(findingLines(SAMPLE_REPORT, desk.out).some((line) => line.includes(ESCAPE))).toBe(hasColour);
  });

  it('are nothing where nothing was found', () => {
    expect(findingLines({ ...SAMPLE_REPORT, findings: [] }, fakeDesk({ isTerminal: true }).desk.out)).toEqual([]);
  });
});

describe('a terminal’s columns', () => {
  it.each([
    ['abc', 3],
    ['Ma\u0301laholt', 8],
    ['漢字', 4],
    ['', 0],
  ])('%s takes %d', (text, columns) => expect(columnsOf(text)).toBe(columns));

  it('break a word only where it is wider than all of them', () => {
    expect(wrap('one three fourteen', 5)).toEqual(['one', 'three', 'fourt', 'een']);
    expect(fill('漢', 4)).toBe('漢  ');
  });
});
