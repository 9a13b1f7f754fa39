import type { Finding, PagePair, Report, Weight } from '../model/index.ts';
import { placeWords } from './words/place-words.ts';
import { WEIGHTS } from './words/finding-words.ts';

/** A finding as a report carries it. */
export type ReportedFinding = Finding & { readonly id: string };

/**
 * The findings as a person leafs through the revision: those of the whole file first, then page by page, missing pages
 * where the dummy had them; on one page as the report has them.
 */
export function inPageOrder(report: Report): readonly ReportedFinding[] {
  const byRevision = new Map<number, number>();
  const byDummy = new Map<number, number>();
  report.pages.forEach(({ dummyPage, revisionPage }, place) => {
    if (revisionPage !== null) byRevision.set(revisionPage, place);
    if (dummyPage !== null && !byDummy.has(dummyPage)) byDummy.set(dummyPage, place);
  });
  const placeOf = ({ dummyPage, revisionPage }: Finding): number => {
    if (revisionPage !== null) return byRevision.get(revisionPage) ?? revisionPage - 1;
    if (dummyPage !== null) return byDummy.get(dummyPage) ?? dummyPage - 1;
    return -1;
  };
  return [...report.findings].sort((one, other) => placeOf(one) - placeOf(other));
}

/** The number under which each finding stands in a report for people: from 1, in page order; by the finding's id. */
export function findingNumbers(report: Report): ReadonlyMap<string, number> {
  return new Map(inPageOrder(report).map(({ id }, index) => [id, index + 1]));
}

/** The findings that belong to one place of the book. */
export function findingsAt(findings: readonly ReportedFinding[], pair: PagePair): readonly ReportedFinding[] {
  return findings.filter(({ dummyPage, revisionPage }) =>
    pair.revisionPage === null
      ? revisionPage === null && dummyPage === pair.dummyPage && dummyPage !== null
      : revisionPage === pair.revisionPage,
  );
}

/** The weight that counts most among findings, or null where there are none. */
export function heaviest(findings: readonly { readonly weight: Weight }[]): Weight | null {
  return WEIGHTS.find((weight) => findings.some((finding) => finding.weight === weight)) ?? null;
}

const ORDER_KINDS: ReadonlySet<string> = new Set(['page-moved', 'page-missing', 'page-added', 'page-repeated']);

/** The findings about the order of the pages. */
export function orderFindings(findings: readonly ReportedFinding[]): readonly ReportedFinding[] {
  return findings.filter(({ kind }) => ORDER_KINDS.has(kind));
}

/** Findings that stand on the same page, with the page in words. */
export interface PlacedFindings {
  readonly place: string;
  readonly own: readonly { readonly finding: ReportedFinding; readonly number: number }[];
}

/** Findings in page order, gathered under the page they stand on, each with its number. */
export function findingsByPlace(findings: readonly ReportedFinding[]): readonly PlacedFindings[] {
  const groups: { place: string; own: { finding: ReportedFinding; number: number }[] }[] = [];
  findings.forEach((finding, index) => {
    const words = placeWords(finding);
    const place = words.charAt(0).toUpperCase() + words.slice(1);
    const last = groups.at(-1);
    if (last?.place === place) last.own.push({ finding, number: index + 1 });
    else groups.push({ place, own: [{ finding, number: index + 1 }] });
  });
  return groups;
}
