import { describe, expect, it } from 'vitest';
import { CAUTIONS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Report } from '../../src/model/index.ts';
import { formatReport } from '../../src/reporting/index.ts';
import { parseReport } from '../../src/reporting/report-parsing.ts';
import { refusalOf } from '../refusal-of.ts';
import { MATCHING_REPORT, SAMPLE_REPORT } from './sample-book.ts';

const SMALL: Report = {
  cautions: ['A caution.'],
  renderer: 'a renderer 1',
  verdict: 'differs',
  findings: [
    {
      says: 'The content slipped.',
      measured: {
        decidedBy: 'pixels',
        uncertaintyMm: 0.0412,
        cutMm: { bottom: -0.0001, top: 0, right: -1.2345, left: 1.2355 },
        scale: 1.000044,
        shiftYmm: -0.0049,
        shiftXmm: -1.2345,
      },
      revisionBox: null,
      box: { height: 10.005, width: 20, y: 1 / 3, x: -3 },
      revisionPage: 2,
      dummyPage: 1,
      weight: 'stop',
      kind: 'crop-altered',
      id: 'crop-altered-1',
    },
  ],
  pages: [
    { state: 'differs', revisionPage: 2, dummyPage: 1, colour: { worstDeltaE00: 4.5678, meanDeltaE00: 1.234 } },
    { state: 'missing', revisionPage: null, dummyPage: 2 },
  ],
  tolerances: DEFAULT_TOLERANCES,
  revision: { pages: 1, bytes: 20, sha256: 'b'.repeat(64) },
  dummy: { pages: 2, bytes: 10, sha256: 'a'.repeat(64) },
  format: 'witnessleaf-report/1',
};

describe('the report for programs', () => {
  it('has its members in the published order, lengths to 0.01 mm, ratios to 0.0001, and ends its last line', () => {
    const tolerances = Object.entries(DEFAULT_TOLERANCES).map(([name, value]) => `    "${name}": ${value}`);
    expect(formatReport(SMALL)).toBe(`{
  "format": "witnessleaf-report/1",
  "dummy": { "sha256": "${'a'.repeat(64)}", "bytes": 10, "pages": 2 },
  "revision": { "sha256": "${'b'.repeat(64)}", "bytes": 20, "pages": 1 },
  "tolerances": {
${tolerances.join(',\n')}
  },
  "pages": [
    {
      "dummyPage": 1,
      "revisionPage": 2,
      "state": "differs",
      "colour": { "meanDeltaE00": 1.23, "worstDeltaE00": 4.57 }
    },
    { "dummyPage": 2, "revisionPage": null, "state": "missing" }
  ],
  "findings": [
    {
      "id": "crop-altered-1",
      "kind": "crop-altered",
      "weight": "stop",
      "dummyPage": 1,
      "revisionPage": 2,
      "box": { "x": -3, "y": 0.33, "width": 20, "height": 10.01 },
      "revisionBox": null,
      "measured": {
        "shiftXmm": -1.23,
        "shiftYmm": 0,
        "scale": 1,
        "cutMm": { "left": 1.24, "right": -1.23, "top": 0, "bottom": 0 },
        "uncertaintyMm": 0.04,
        "decidedBy": "pixels"
      },
      "says": "The content slipped."
    }
  ],
  "verdict": "differs",
  "renderer": "a renderer 1",
  "cautions": ["A caution."]
}
`);
  });

  it.each([
    ['with a finding of every kind', SAMPLE_REPORT],
    ['of two files that match', MATCHING_REPORT],
  ])('%s reads back as what was printed, and prints the same again', (_, report) => {
    const text = formatReport(report);
    expect(formatReport(parseReport(text))).toBe(text);
    expect(parseReport(text).findings.map(({ kind, says }) => ({ kind, says }))).toEqual(
      report.findings.map(({ kind, says }) => ({ kind, says })),
    );
  });

  it('carries every caution', () => {
    expect(parseReport(formatReport(SAMPLE_REPORT)).cautions).toEqual(CAUTIONS);
  });

  it('leaves out what a later version may add', () => {
    const later = { ...SAMPLE_REPORT, paper: 'uncoated' };
    const text = JSON.stringify(later);
    expect(parseReport(text)).toEqual(parseReport(JSON.stringify(SAMPLE_REPORT)));
  });
});

describe('a report that comes from outside is refused', () => {
  const changed = (change: (report: Record<string, unknown>) => void): string => {
    const report = JSON.parse(formatReport(SAMPLE_REPORT)) as Record<string, unknown>;
    change(report);
    return JSON.stringify(report);
  };
  const pointerOf = (text: string): unknown => {
    const refusal = refusalOf(() => parseReport(text));
    return typeof refusal === 'object' && refusal !== null && 'pointer' in refusal ? refusal.pointer : refusal;
  };

  it('where it is no JSON', () => {
    expect(refusalOf(() => parseReport('%PDF-1.7'))).toEqual({
      kind: 'malformed',
      pointer: 'report',
      expected: 'JSON',
      found: 'something else',
    });
  });

  it('where it is of another format, naming the place', () => {
    expect(pointerOf(changed((report) => (report.format = 'another/1')))).toBe('report/format');
  });

  it('where a figure does not fit its kind of finding', () => {
    const text = changed((report) => {
      const findings = report.findings as { kind: string; measured: unknown }[];
      const crop = findings.find(({ kind }) => kind === 'crop-altered');
      if (crop !== undefined) crop.measured = { scale: 1 };
    });
    expect(pointerOf(text)).toMatch(/^report\/findings\/13\/measured\//);
  });

  it('where a tolerance is out of its range', () => {
    expect(pointerOf(changed((report) => (report.tolerances = { cropMm: 99 })))).toBe('tolerances/cropMm');
  });
});
