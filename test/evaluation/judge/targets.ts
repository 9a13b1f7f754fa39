import type { FindingKind } from '../../../src/model/index.ts';
import { errorsOf, medianOf, worstOf } from './figures.ts';
import type { Errors } from './figures.ts';
import type { Judgement, Outcome } from './judge-report.ts';

/** A line of the table: what was measured, what was asked for. */
export interface Line {
  readonly says: string;
  readonly reached: string;
  readonly target: string;
  /** Null where nothing was asked for, or nothing could be measured. */
  readonly ok: boolean | null;
}

const PAGE_COMPARISONS = 400;
/** Told of sheets alone. */
const SHEET_KINDS: readonly FindingKind[] = [
  'pages-exchanged',
  'page-in-wrong-cell',
  'page-turned',
  'page-missing',
  'sides-exchanged',
  'section-out-of-order',
  'collating-mark-off',
  'back-out-of-register',
  'page-off-place',
];
/** Told of plates alone. */
const PLATE_KINDS: readonly FindingKind[] = [
  'separation-missing',
  'separation-doubled',
  'separation-of-another-sheet',
  'inks-exchanged',
  'separation-out-of-register',
  'separation-empty',
  'screen-coarse',
];

/** The whole table. `complete` is false where only some trials ran, so that numbers of trials are not asked for. */
export function tableOf(judgements: readonly Judgement[], complete: boolean): readonly Line[] {
  const outcomes = judgements.flatMap((judgement) => judgement.outcomes);
  return [
    ...alarmLines(judgements, complete),
    ...pageLines(judgements, outcomes),
    ...pictureLines(outcomes),
    ...otherLines(outcomes),
    ...sheetLines(judgements, complete),
  ];
}

function alarmLines(judgements: readonly Judgement[], complete: boolean): readonly Line[] {
  const clean = sum(judgements.map(({ cleanPages }) => cleanPages));
  const alarms = sum(judgements.map(({ falseAlarms }) => falseAlarms.length));
  const silent = judgements.filter(({ trial }) => trial.group === 'silent');
  const silentPages = sum(silent.map(({ cleanPages }) => cleanPages));
  const surplus = sum(judgements.map((judgement) => judgement.surplus.length));
  const rate = clean === 0 ? '–' : ((100 * alarms) / clean).toFixed(2);
  return [
    {
      says: 'preparations that must stay silent',
      reached: `${silent.length}`,
      target: '12',
      ok: complete ? silent.length >= 12 : null,
    },
    {
      says: 'page comparisons of unchanged books',
      reached: `${silentPages}`,
      target: `${PAGE_COMPARISONS}`,
      ok: complete ? silentPages >= PAGE_COMPARISONS : null,
    },
    {
      says: 'false alarms on clean pages',
      reached: `${alarms} on ${clean}`,
      target: '0',
      ok: clean === 0 ? null : alarms === 0,
    },
    { says: 'false alarms per 100 clean pages', reached: rate, target: '0', ok: clean === 0 ? null : alarms === 0 },
    { says: 'faults told under a second name', reached: `${surplus}`, target: '0', ok: surplus === 0 },
  ];
}

function pageLines(judgements: readonly Judgement[], outcomes: readonly Outcome[]): readonly Line[] {
  const ofPages = outcomes.filter(({ wanted }) => wanted.kind.startsWith('page-'));
  const right = sum(judgements.map(({ pairing }) => pairing.right));
  const all = sum(judgements.map(({ pairing }) => pairing.all));
  const offMoves = judgements.filter(
    ({ moves, trial }) => trial.origins !== null && moves.told !== moves.wanted,
  ).length;
  return [
    caught('pages lost, added, repeated, emptied, resized, turned, moved', ofPages, 1),
    named('the same, named rightly', ofPages, 1),
    {
      says: 'pages paired rightly',
      reached: `${right} of ${all}`,
      target: 'all',
      ok: all === 0 ? null : right === all,
    },
    { says: 'files with a wrong number of moves', reached: `${offMoves}`, target: '0', ok: offMoves === 0 },
  ];
}

function pictureLines(outcomes: readonly Outcome[]): readonly Line[] {
  const pictures = outcomes.filter(
    ({ wanted }) => wanted.kind.startsWith('picture-') || wanted.kind === 'crop-altered',
  );
  const crops = outcomes.filter(({ wanted }) => wanted.kind === 'crop-altered');
  const scales = crops.filter(({ wanted }) => (wanted.figures?.scale ?? 1) !== 1);
  const slips = crops.filter((crop) => !scales.includes(crop));
  const turned = outcomes.filter(({ wanted }) => wanted.kind === 'picture-turned');
  const retouched = outcomes.filter(({ wanted }) => wanted.kind === 'picture-retouched');
  return [
    caught('faults of pictures', pictures, 0.99),
    named('the same, named rightly', pictures, 0.95),
    caught('content shifted or a window’s edge changed, from 0.5 mm', slips, 1),
    error('error of a crop, median', crops, 'cropMm', medianOf, 0.1, 'mm'),
    error('error of a crop, worst', crops, 'cropMm', worstOf, 0.3, 'mm'),
    caught('content scaled in its window, from 1.5 %', scales, 1),
    error('error of a scale, worst', crops, 'scalePercent', worstOf, 0.3, '%'),
    caught('content turned, from 0.5 degrees', turned, 1),
    error('error of a turn, worst', turned, 'turnDeg', worstOf, null, 'degrees'),
    caught('retouched, from 0.2 % of the picture', retouched, 1),
  ];
}

function otherLines(outcomes: readonly Outcome[]): readonly Line[] {
  const text = outcomes.filter(({ wanted }) => wanted.kind === 'text-changed');
  const artwork = outcomes.filter(({ wanted }) => wanted.kind === 'artwork-changed');
  return [
    caught('text: letters, accents, digits, words, faces, places', text, 1),
    named('the same, named rightly', text, null),
    caught('rules, lines, tints', artwork, null),
    named('the same, named rightly', artwork, null),
  ];
}

const CLEAN_SHEETS = 40;

/** Faults that only sheets have; those of the pages on them are counted with all pages above. */
function sheetLines(judgements: readonly Judgement[], complete: boolean): readonly Line[] {
  const onSheets = judgements.filter(({ trial }) => trial.sheets !== null);
  const silent = onSheets.filter(({ trial }) => trial.group === 'silent');
  const clean = sum(silent.map(({ trial }) => trial.sheets ?? 0));
  const alarms = sum(silent.map(({ falseAlarms }) => falseAlarms.length));
  const outcomes = onSheets.flatMap((judgement) => judgement.outcomes);
  const ofSheets = outcomes.filter(({ wanted }) => SHEET_KINDS.includes(wanted.kind));
  const ofPlates = outcomes.filter(({ wanted }) => PLATE_KINDS.includes(wanted.kind));
  const ofPages = outcomes.filter((outcome) => !ofSheets.includes(outcome) && !ofPlates.includes(outcome));
  return [
    {
      says: 'sheets that must stay silent',
      reached: `${clean}`,
      target: `${CLEAN_SHEETS}`,
      ok: complete ? clean >= CLEAN_SHEETS : null,
    },
    {
      says: 'false alarms on them',
      reached: `${alarms}`,
      target: '0',
      ok: silent.length === 0 ? null : alarms === 0,
    },
    caught('cells, sides, sheets, register', ofSheets, 1),
    named('the same, named rightly', ofSheets, 1),
    error('error of a place, worst', [...ofSheets, ...ofPlates], 'placeMm', worstOf, 0.1, 'mm'),
    caught('plates missing, strange, exchanged, off', ofPlates, 1),
    named('the same, named rightly', ofPlates, 1),
    caught('pages on sheets', ofPages, 0.99),
    named('the same, named rightly', ofPages, 0.95),
  ];
}

function caught(says: string, outcomes: readonly Outcome[], least: number | null): Line {
  return share(`${says}: caught`, outcomes, ({ found }) => found !== null, least);
}

function named(says: string, outcomes: readonly Outcome[], least: number | null): Line {
  return share(says, outcomes, ({ namedRightly }) => namedRightly, least);
}

function share(
  says: string,
  outcomes: readonly Outcome[],
  holds: (outcome: Outcome) => boolean,
  least: number | null,
): Line {
  const count = outcomes.filter(holds).length;
  const part = count / outcomes.length;
  const target = least === null ? '–' : least === 1 ? 'all' : `${100 * least} %`;
  const reached = outcomes.length === 0 ? '–' : `${count} of ${outcomes.length} (${(100 * part).toFixed(1)} %)`;
  return { says, reached, target, ok: least === null || outcomes.length === 0 ? null : part >= least };
}

function error(
  says: string,
  outcomes: readonly Outcome[],
  name: keyof Errors,
  taken: (figures: readonly number[]) => number | null,
  most: number | null,
  unit: string,
): Line {
  const figure = taken(outcomes.flatMap((outcome) => errorsOf(outcome)[name] ?? []));
  return {
    says,
    reached: figure === null ? '–' : `${figure.toFixed(3)} ${unit}`,
    target: most === null ? '–' : `${most} ${unit}`,
    ok: most === null || figure === null ? null : figure <= most,
  };
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, each) => total + each, 0);
}
