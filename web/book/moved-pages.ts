import type { Compared } from './queries.ts';

/** A page that stands elsewhere than in the dummy. */
export interface MovedPage {
  readonly dummyPage: number;
  readonly revisionPage: number;
}

/** The pages that the report tells as moved, out of their cells, or exchanged. */
export function movedPages(compared: Compared | null): readonly MovedPage[] {
  if (compared === null) return [];
  const kinds = new Set(['page-moved', 'page-in-wrong-cell', 'pages-exchanged']);
  return compared.findings.flatMap(({ finding: { kind, dummyPage, revisionPage } }) =>
    kinds.has(kind) && dummyPage !== null && revisionPage !== null ? [{ dummyPage, revisionPage }] : [],
  );
}
