import type { Finding, Report } from '../../../src/model/index.ts';
import type { Trial, Wanted } from './trial.ts';

/** What became of one planted fault. */
export interface Outcome {
  readonly wanted: Wanted;
  /** The finding that names it, or one that was raised on its page under another name; null: missed. */
  readonly found: Finding | null;
  readonly namedRightly: boolean;
}

export interface Judgement {
  readonly trial: Trial;
  readonly outcomes: readonly Outcome[];
  /** Raised (`stop` or `look`) on pages where nothing was planted. */
  readonly falseAlarms: readonly Finding[];
  /** Raised on a page with a fault, beyond what tells that fault. */
  readonly surplus: readonly Finding[];
  /** Page pairs without any fault. */
  readonly cleanPages: number;
  /** Pages of the revision whose partner was told rightly, of all. */
  readonly pairing: { readonly right: number; readonly all: number; readonly wrong: readonly string[] };
  readonly moves: { readonly told: number; readonly wanted: number };
  readonly seconds: number;
}

/** Holds a report against what is true about its two files. */
export function judgeReport(trial: Trial, report: Report, seconds: number): Judgement {
  const raised = report.findings.filter(({ weight }) => weight !== 'note');
  const left = new Set<Finding>(raised);
  const named = new Map<Wanted, Finding | null>();
  for (const wanted of trial.wanted) {
    const fitting = [...left].filter(
      (finding) => finding.kind === wanted.kind && isAt(finding, wanted) && isExactly(finding, wanted),
    );
    named.set(wanted, fitting[0] ?? null);
    for (const finding of wanted.oftenTold === true ? fitting : fitting.slice(0, 1)) left.delete(finding);
  }
  const outcomes = trial.wanted.map((wanted): Outcome => {
    const finding = named.get(wanted) ?? null;
    if (finding !== null) return { wanted, found: finding, namedRightly: true };
    const other = [...left].find((each) => isAt(each, wanted)) ?? null;
    if (other !== null) left.delete(other);
    return { wanted, found: other, namedRightly: false };
  });
  const isBeside = (finding: Finding): boolean => trial.wanted.some((wanted) => isAt(finding, wanted));
  return {
    trial,
    outcomes,
    falseAlarms: [...left].filter((finding) => !isBeside(finding)),
    surplus: [...left].filter(isBeside),
    cleanPages: countCleanPages(trial, report),
    pairing: judgePairing(trial, report),
    moves: {
      told: report.findings.filter(({ kind }) => kind === 'page-moved').length,
      wanted: trial.wanted.filter(({ kind }) => kind === 'page-moved').length,
    },
    seconds,
  };
}

function isAt(finding: Finding, { kind, dummyPages, revisionPages }: Wanted): boolean {
  const { dummyPage, revisionPage } = finding;
  // of sheets as a whole: no page of the book is meant
  if (dummyPages.length === 0 && revisionPages.length === 0) return finding.kind === kind;
  if (dummyPage !== null && dummyPages.length > 0) return dummyPages.includes(dummyPage);
  return revisionPage !== null && revisionPages.includes(revisionPage);
}

function isExactly({ measured }: Finding, { exactly = {} }: Wanted): boolean {
  const said: Readonly<Record<string, unknown>> = { ...measured };
  return Object.entries(exactly).every(([name, value]) => said[name] === value);
}

function countCleanPages({ wanted }: Trial, report: Report): number {
  return report.pages.filter(({ dummyPage, revisionPage }) => {
    if (dummyPage === null || revisionPage === null) return false;
    return !wanted.some((each) => each.dummyPages.includes(dummyPage) || each.revisionPages.includes(revisionPage));
  }).length;
}

function judgePairing({ origins, wanted }: Trial, report: Report): Judgement['pairing'] {
  if (origins === null) return { right: 0, all: 0, wrong: [] };
  const told = new Map(report.pages.map((pair) => [pair.revisionPage, pair]));
  const wrong: string[] = [];
  origins.forEach((origin, index) => {
    const pair = told.get(index + 1);
    // A copy is told with the page it repeats, and so has the same partner.
    const partner = pair === undefined ? undefined : pair.state === 'added' ? null : pair.dummyPage;
    if (partner !== origin) wrong.push(`page ${index + 1} is ${origin ?? 'new'}, told as ${partner ?? 'new'}`);
  });
  const missing = report.pages.filter(({ state }) => state === 'missing').length;
  // a page that is missing from its sheet leaves its cell, which is still told as its own
  const lost = wanted.filter(
    ({ kind, dummyPages }) => kind === 'page-missing' && dummyPages.every((page) => !origins.includes(page)),
  ).length;
  if (missing !== lost) wrong.push(`${lost} pages are lost, ${missing} told`);
  return { right: origins.length - Math.min(origins.length, wrong.length), all: origins.length, wrong };
}
