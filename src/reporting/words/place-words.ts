import type { Finding } from '../../model/index.ts';

/** Where a finding stands: "page 7", "page 9, which is dummy page 7", "dummy page 7", "the whole file". */
export function placeWords(finding: Pick<Finding, 'dummyPage' | 'revisionPage'>): string {
  const { dummyPage, revisionPage } = finding;
  if (revisionPage === null) return dummyPage === null ? 'the whole file' : `dummy page ${dummyPage}`;
  if (dummyPage === null) return `revision page ${revisionPage}`;
  return dummyPage === revisionPage ? `page ${revisionPage}` : `page ${revisionPage} (dummy page ${dummyPage})`;
}
