import type { Weight } from '../call/answers.ts';
import type { Compared } from './queries.ts';

/** What is told of a page at a glance. */
export interface PageMark {
  readonly weight: Weight;
  readonly findings: number;
}

/** The marks of both files' pages, by page number; a page without findings has none. */
export interface PageMarks {
  readonly dummy: ReadonlyMap<number, PageMark>;
  readonly revision: ReadonlyMap<number, PageMark>;
}

const GRAVEST_FIRST: readonly Weight[] = ['stop', 'look', 'note'];

/** Counts what was found on each page, and keeps the gravest weight. */
export function marksOfPages(compared: Compared | null): PageMarks {
  const marks = { dummy: new Map<number, PageMark>(), revision: new Map<number, PageMark>() };
  for (const { weight, finding } of compared?.findings ?? []) {
    add(marks.dummy, finding.dummyPage, weight);
    add(marks.revision, finding.revisionPage, weight);
  }
  return marks;
}

function add(marks: Map<number, PageMark>, page: number | null, weight: Weight): void {
  if (page === null) return;
  const known = marks.get(page);
  const graver = GRAVEST_FIRST.find((one) => one === weight || one === known?.weight) ?? weight;
  marks.set(page, { weight: graver, findings: (known?.findings ?? 0) + 1 });
}
