import type { Tolerances } from '../../model/index.ts';
import { longestIncreasingRun } from '../sequence/longest-increasing-run.ts';
import { alikePages } from './alike-pages.ts';
import { clearPairs, lonePairs } from './clear-pairs.ts';
import { openEdges } from './edge.ts';
import type { Edge } from './edge.ts';
import { equalPages } from './equal-pages.ts';
import { pairLookalikes } from './lookalikes.ts';
import { bookTraits } from './page-traits.ts';
import type { BookTraits } from './page-traits.ts';
import type { MovedPage, PairedPages, PageViews, Pairing } from './page-view.ts';
import { pairByPlace } from './by-place.ts';
import { repeatedPages } from './repeated-pages.ts';
import { mayTurn, turnOf } from './turned.ts';

/**
 * Finds for each page of the dummy the page of the revision that is it, by what they show and not by number: equal
 * content; then looks, wording and picture data; then, for what is left, the place between the same neighbours.
 * Lookalikes keep their order unless they prove that they changed places.
 *
 * @param views  pages of both files, each from 1 in file order; `pagesToDraw` says which must have been drawn
 * @returns every page of either file once
 */
export function pairPages(views: PageViews, tolerances: Tolerances): Pairing {
  const traits = bookTraits(views);
  const equal = equalPages(traits);
  const open = {
    dummy: pagesOutside(traits, equal.settled, 'dummy'),
    revision: pagesOutside(traits, equal.settled, 'revision'),
  };
  const alike = alikePages(open).filter(({ dummy, revision, turnedDeg }) =>
    mayTurn(traits.dummy[dummy]!.view, traits.revision[revision]!.view, turnedDeg, tolerances),
  );
  const uncertain = mergeEdges(equal.contested, alike);
  const settled = [...equal.settled, ...clearPairs(uncertain)];
  const paired = [...settled, ...pairLookalikes({ traits, settled, contested: openEdges(uncertain, settled) })];
  const unpaired = new Set(openEdges(uncertain, paired));
  paired.push(...lonePairs(uncertain, (edge) => unpaired.has(edge)));
  const repeated = repeatedPages({ traits, paired, edges: uncertain });
  const byPlace = pairByPlace({ traits, paired, apart: new Set(repeated.map(({ revisionPage }) => revisionPage - 1)) });
  const pairs = [
    ...paired.map((edge) => tellPair(traits, edge, false, tolerances)),
    ...byPlace.map((edge) => tellPair(traits, edge, true, tolerances)),
  ].sort((a, b) => a.revisionPage - b.revisionPage);
  const found = new Set(pairs.map(({ dummyPage }) => dummyPage));
  const used = new Set([...pairs, ...repeated].map(({ revisionPage }) => revisionPage));
  return {
    pairs,
    missing: views.dummy.map((_, index) => index + 1).filter((pageNumber) => !found.has(pageNumber)),
    added: views.revision.map((_, index) => index + 1).filter((pageNumber) => !used.has(pageNumber)),
    repeated,
    moved: movedPages(pairs),
  };
}

function pagesOutside(traits: BookTraits, settled: readonly Edge[], side: 'dummy' | 'revision') {
  const held = new Set(settled.map((edge) => edge[side]));
  return traits[side].filter(({ index }) => !held.has(index));
}

/** Equal pages also look alike: of two edges between the same pages the cheaper stays. */
function mergeEdges(...lists: readonly (readonly Edge[])[]): Edge[] {
  const kept = new Map<number, Edge>();
  for (const edge of lists.flat()) {
    const key = edge.dummy * 2 ** 24 + edge.revision;
    const known = kept.get(key);
    if (known === undefined || edge.cost < known.cost) kept.set(key, edge);
  }
  return [...kept.values()];
}

function tellPair(traits: BookTraits, edge: Edge, byPlace: boolean, tolerances: Tolerances): PairedPages {
  const [dummy, revision] = [traits.dummy[edge.dummy]!, traits.revision[edge.revision]!];
  const equal = dummy.view.contentHash !== null && dummy.view.contentHash === revision.view.contentHash;
  const blank = dummy.view.blank === true && revision.view.blank === true;
  return {
    dummyPage: edge.dummy + 1,
    revisionPage: edge.revision + 1,
    by: equal ? 'content' : byPlace || blank ? 'place' : 'likeness',
    turnedDeg: equal || byPlace || blank ? 0 : turnOf(dummy, revision, edge, tolerances),
    emptied: dummy.view.blank === false && revision.view.blank === true,
  };
}

/** Matched pages less the longest run of them that still rises; of two pages that changed places the later one moved. */
function movedPages(pairs: readonly PairedPages[]): MovedPage[] {
  const stayed = new Set(longestIncreasingRun(pairs.map(({ dummyPage }) => dummyPage)));
  return pairs
    .filter((_, index) => !stayed.has(index))
    .map(({ dummyPage, revisionPage }) => ({
      dummyPage,
      revisionPage,
      fromPosition: dummyPage,
      toPosition: revisionPage,
    }));
}
