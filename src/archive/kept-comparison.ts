import type { PageComparison } from '../comparing/index.ts';

/** The same comparison of two pages that stand elsewhere in their books: nothing in it but their numbers says where. */
export function renumbered(
  comparison: PageComparison,
  { dummyPage, revisionPage }: { readonly dummyPage: number; readonly revisionPage: number },
): PageComparison {
  const findings = comparison.findings.map((finding) => ({
    ...finding,
    dummyPage: finding.dummyPage === null ? null : dummyPage,
    revisionPage: finding.revisionPage === null ? null : revisionPage,
  }));
  return { ...comparison, findings };
}
