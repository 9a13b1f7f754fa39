import type { FileIdentity, Finding, PagePair, PageState, Report, Tolerances } from '../model/index.ts';
import { CAUTIONS } from '../model/index.ts';
import type { PageComparison } from './compare-pages.ts';
import { tellOrderFindings } from './pairing/order-findings.ts';
import { orderPagePairs } from './pairing/order-page-pairs.ts';
import type { PairedPages, Pairing } from './pairing/page-view.ts';

/** All that a report is made of. */
export interface ReportParts {
  readonly dummy: FileIdentity;
  readonly revision: FileIdentity;
  readonly tolerances: Tolerances;
  readonly renderer: string;
  readonly pairing: Pairing;
  /** What comparing a pair came to; null for a pair of equal content, which needs no comparison. */
  readonly comparisonOf: (pair: PairedPages) => PageComparison | null;
  /** Findings about whole files and unreadable pages. */
  readonly further: readonly Finding[];
  /** Which pages the report is about. */
  readonly covers: (page: { readonly dummyPage: number | null; readonly revisionPage: number | null }) => boolean;
}

/** Puts a report together: pairs in revision order, findings in page order with their ids, the verdict. */
export function assembleReport(parts: ReportParts): Report {
  const { pairing } = parts;
  const comparisons = new Map(pairing.pairs.map((pair) => [pair.revisionPage, parts.comparisonOf(pair)]));
  const findings = [
    ...tellOrderFindings(pairing),
    ...[...comparisons.values()].flatMap((comparison) => comparison?.findings ?? []),
    ...parts.further,
  ].filter(parts.covers);
  const sorted = inPageOrder(findings).map((finding, index) => ({ ...finding, id: `f${index + 1}` }));
  const stateOf = (pair: PairedPages): PageState => {
    if (pair.turnedDeg !== 0 || pair.emptied || differs(pair, findings)) return 'differs';
    return pair.by === 'content' ? 'same-content' : 'same-picture';
  };
  const pages = orderPagePairs(pairing, stateOf)
    .filter(parts.covers)
    .map((pair) => withColour(pair, comparisons.get(pair.revisionPage ?? 0) ?? null));
  return {
    format: 'witnessleaf-report/1',
    dummy: parts.dummy,
    revision: parts.revision,
    tolerances: parts.tolerances,
    pages,
    findings: sorted,
    verdict: sorted.some(({ weight }) => weight !== 'note') ? 'differs' : 'match',
    renderer: parts.renderer,
    cautions: CAUTIONS,
  };
}

function withColour(pair: PagePair, comparison: PageComparison | null): PagePair {
  const paired = pair.state === 'differs' || pair.state === 'same-picture';
  return paired && comparison?.colour ? { ...pair, colour: comparison.colour } : pair;
}

/** A page differs by what is on it, not by its place in the order. */
function differs({ dummyPage, revisionPage }: PairedPages, findings: readonly Finding[]): boolean {
  return findings.some(
    (finding) =>
      finding.kind !== 'page-moved' &&
      finding.kind !== 'page-repeated' &&
      finding.weight !== 'note' &&
      finding.dummyPage === dummyPage &&
      finding.revisionPage === revisionPage,
  );
}

/** By the dummy's page, an added page by its place in the revision; within a page as they were found; files last. */
function inPageOrder(findings: readonly Finding[]): readonly Finding[] {
  const place = ({ dummyPage, revisionPage }: Finding): number => dummyPage ?? revisionPage ?? Infinity;
  return [...findings].sort((one, other) => (place(one) === place(other) ? 0 : place(one) - place(other)));
}
