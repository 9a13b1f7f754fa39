import type { PagePair } from '../model/index.ts';

/** A page of the report's `pages` with its index there. */
export interface Place {
  readonly pair: PagePair;
  readonly index: number;
}

/** Two facing pages (the first and often the last alone), and the missing dummy pages that hang behind them. */
export interface Spread {
  readonly bound: readonly Place[];
  readonly loose: readonly Place[];
}

/** The revision's pages as they face each other: page 1 alone on the right, then an even page and the odd one after it. */
export function spreadsOf(pages: readonly PagePair[]): readonly Spread[] {
  const spreads: { readonly bound: Place[]; readonly loose: Place[] }[] = [];
  pages.forEach((pair, index) => {
    const place = { pair, index };
    const last = spreads.at(-1);
    if (pair.revisionPage === null) {
      if (last === undefined) spreads.push({ bound: [], loose: [place] });
      else last.loose.push(place);
      return;
    }
    const before = last?.bound.at(-1)?.pair.revisionPage ?? null;
    if (last !== undefined && pair.revisionPage % 2 === 1 && before === pair.revisionPage - 1) last.bound.push(place);
    else spreads.push({ bound: [place], loose: [] });
  });
  return spreads;
}

/** The number under a page: its own in the revision, or the dummy's where the page is missing. */
export function folioOf({ dummyPage, revisionPage }: PagePair): string {
  return String(revisionPage ?? dummyPage ?? '');
}

/** What is written below a page that is not at its dummy place; empty for all others. */
export function originOf({ dummyPage, revisionPage, state }: PagePair): string {
  if (state === 'missing') return 'missing';
  if (state === 'added') return 'added';
  if (state === 'repeated') return `repeats dummy ${dummyPage ?? ''}`;
  return dummyPage === revisionPage ? '' : `dummy ${dummyPage ?? ''}`;
}
