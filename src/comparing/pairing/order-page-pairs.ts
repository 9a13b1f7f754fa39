import type { PagePair, PageState } from '../../model/index.ts';
import type { PairedPages, Pairing } from './page-view.ts';

/**
 * One entry for each page of either file, in revision order; a missing page stands behind the page that it followed in
 * the dummy, where that one did not move.
 *
 * @param stateOf  what comparing the pages of a pair came to
 */
export function orderPagePairs(pairing: Pairing, stateOf: (pair: PairedPages) => PageState): PagePair[] {
  const rows: { readonly at: number; readonly pair: PagePair }[] = [
    ...pairing.pairs.map((pair) => ({
      at: pair.revisionPage,
      pair: { dummyPage: pair.dummyPage, revisionPage: pair.revisionPage, state: stateOf(pair) },
    })),
    ...pairing.added.map((revisionPage) => ({
      at: revisionPage,
      pair: { dummyPage: null, revisionPage, state: 'added' as const },
    })),
    ...pairing.repeated.map(({ dummyPage, revisionPage }) => ({
      at: revisionPage,
      pair: { dummyPage, revisionPage, state: 'repeated' as const },
    })),
    ...missingRows(pairing),
  ];
  return rows.sort((a, b) => a.at - b.at).map(({ pair }) => pair);
}

/** Missing pages, each between the revision page it follows and the next; neighbours keep their order in the sort. */
function missingRows({ missing, moved, pairs }: Pairing): { readonly at: number; readonly pair: PagePair }[] {
  const carried = new Set(moved.map(({ dummyPage }) => dummyPage));
  const stayed = pairs.filter(({ dummyPage }) => !carried.has(dummyPage));
  return missing.map((dummyPage) => {
    const before = stayed.findLast((pair) => pair.dummyPage < dummyPage);
    return {
      at: (before?.revisionPage ?? 0) + 0.5,
      pair: { dummyPage, revisionPage: null, state: 'missing' as const },
    };
  });
}
