import { describe, expect, it } from 'vitest';
import type { Finding, PagePair, Report } from '../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { errorsOf } from '../evaluation/judge/figures.ts';
import { judgeReport } from '../evaluation/judge/judge-report.ts';
import { tableOf } from '../evaluation/judge/targets.ts';
import type { Trial } from '../evaluation/judge/trial.ts';
import { wantedOf } from '../evaluation/judge/trial.ts';
import type { PlantedFault } from '../evaluation/seen/planted-fault.ts';

const NO_PLACE = { box: null, revisionBox: null, says: '' };
const FILE = { sha256: '', bytes: 1, pages: 3 };

function report(findings: readonly Finding[], pages: readonly PagePair[]): Report {
  return {
    format: 'witnessleaf-report/1',
    dummy: FILE,
    revision: FILE,
    tolerances: DEFAULT_TOLERANCES,
    pages,
    findings: findings.map((finding, index) => ({ ...finding, id: String(index) })),
    verdict: findings.length === 0 ? 'match' : 'differs',
    renderer: 'none',
    cautions: [],
  };
}

const pair = (dummyPage: number | null, revisionPage: number | null, state: PagePair['state']): PagePair => ({
  dummyPage,
  revisionPage,
  state,
});
const THREE = [pair(1, 1, 'same-picture'), pair(2, 2, 'differs'), pair(3, 3, 'same-picture')];

const slipped = (page: number, shiftXmm: number): Finding => ({
  kind: 'crop-altered',
  weight: 'stop',
  dummyPage: page,
  revisionPage: page,
  ...NO_PLACE,
  measured: {
    shiftXmm,
    shiftYmm: 0,
    scale: 1,
    cutMm: { left: 0, right: 0, top: 0, bottom: 0 },
    uncertaintyMm: 0.1,
    decidedBy: 'pixels',
  },
});
const missing = (page: number): Finding => ({
  kind: 'picture-missing',
  weight: 'stop',
  dummyPage: page,
  revisionPage: page,
  ...NO_PLACE,
  measured: {},
});

const TRIAL: Trial = {
  name: 'a slip on page 2',
  group: 'seen',
  sheets: null,
  wanted: [
    { kind: 'crop-altered', dummyPages: [2], revisionPages: [2], figures: { shiftXmm: 1, shiftYmm: 0, scale: 1 } },
  ],
  origins: [1, 2, 3],
  make: () => Promise.reject(new Error('not made here')),
};

describe('the judge of the evaluation', () => {
  it('a fault that is found under its name is caught, named and measured', () => {
    const judged = judgeReport(TRIAL, report([slipped(2, 1.25)], THREE), 1);
    expect(judged.outcomes.map(({ namedRightly }) => namedRightly)).toEqual([true]);
    expect(judged.outcomes.map(errorsOf)).toEqual([{ cropMm: 0.25, scalePercent: 0 }]);
    expect([judged.falseAlarms, judged.surplus, judged.cleanPages]).toEqual([[], [], 2]);
  });

  it('a fault under another name is caught and not named', () => {
    const [outcome] = judgeReport(TRIAL, report([missing(2)], THREE), 1).outcomes;
    expect([outcome?.found?.kind, outcome?.namedRightly]).toEqual(['picture-missing', false]);
  });

  it('silence about a fault is a miss, and a note is silence', () => {
    const noted: Finding = { ...slipped(2, 1), weight: 'note' };
    expect(judgeReport(TRIAL, report([noted], THREE), 1).outcomes.map(({ found }) => found)).toEqual([null]);
  });

  it('a finding on a page where nothing was planted is a false alarm', () => {
    const judged = judgeReport(TRIAL, report([slipped(2, 1), missing(3)], THREE), 1);
    expect(judged.falseAlarms.map(({ dummyPage }) => dummyPage)).toEqual([3]);
  });

  it('a second finding about the same fault is told twice, no false alarm', () => {
    const judged = judgeReport(TRIAL, report([slipped(2, 1), missing(2)], THREE), 1);
    expect([judged.falseAlarms.length, judged.surplus.map(({ kind }) => kind)]).toEqual([0, ['picture-missing']]);
  });

  it('a page with the wrong partner and a page lost without need are wrong pairings', () => {
    const pages = [pair(1, 1, 'same-picture'), pair(3, 2, 'differs'), pair(2, null, 'missing'), pair(null, 3, 'added')];
    expect(judgeReport(TRIAL, report([], pages), 1).pairing).toEqual({
      right: 0,
      all: 3,
      wrong: ['page 2 is 2, told as 3', 'page 3 is 3, told as new', '0 pages are lost, 1 told'],
    });
  });

  it('what a fault asks of the revision follows from where the pages went', () => {
    const fault: PlantedFault = {
      name: '',
      excerpt: 'salt one',
      edit: (altered) => altered,
      expected: [
        { kind: 'page-moved', dummyPage: 3 },
        { kind: 'page-missing', dummyPage: 2 },
        { kind: 'page-added', dummyPage: null },
      ],
    };
    expect(wantedOf(fault, [3, 1, null])).toEqual([
      { kind: 'page-moved', dummyPages: [3], revisionPages: [1] },
      { kind: 'page-missing', dummyPages: [2], revisionPages: [] },
      { kind: 'page-added', dummyPages: [], revisionPages: [3] },
    ]);
  });

  it('the table says where a target is not reached', () => {
    const good = judgeReport(TRIAL, report([slipped(2, 1.05)], THREE), 1);
    const bad = judgeReport(TRIAL, report([slipped(2, 1.6), missing(3)], THREE), 1);
    const failing = (...judged: Parameters<typeof tableOf>[0]): readonly string[] =>
      tableOf(judged, false).flatMap(({ says, ok }) => (ok === false ? [says] : []));
    expect(failing(good)).toEqual([]);
    expect(failing(bad)).toEqual([
      'false alarms on clean pages',
      'false alarms per 100 clean pages',
      'error of a crop, median',
      'error of a crop, worst',
    ]);
  });
});
