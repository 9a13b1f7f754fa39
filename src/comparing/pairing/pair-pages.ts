import type { Tolerances } from '../../model/index.ts';
import { longestIncreasingRun } from '../sequence/longest-increasing-run.ts';
import { alikePages, alikeTurned } from './alike-pages.ts';
import { clearPairs, lonePairs } from './clear-pairs.ts';
import { openEdges } from './edge.ts';
import type { Edge } from './edge.ts';
import { equalPages } from './equal-pages.ts';
import { pairLookalikes } from './lookalikes.ts';
import { bookTraits } from './page-traits.ts';
import type { BookTraits } from './page-traits.ts';
import type { MovedPage, PairedPages, PageViews, Pairing } from './page-view.ts';
import { pairByPlace } from './by-place.ts';
import { repeatedPages, withoutCopies } from './repeated-pages.ts';
import { sameWording } from './same-wording.ts';
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
  const upright = mergeEdges(equal.contested, alikePages(pagesOutside(traits, equal.settled)));
  const settled = [...equal.settled, ...clearPairs(upright)];
  const paired = [...settled, ...pairLookalikes({ traits, settled, contested: openEdges(upright, settled) })];
  const turned = alikeTurned(pagesOutside(traits, paired)).filter(({ dummy, revision, turnedDeg }) =>
    mayTurn(traits.dummy[dummy]!.view, traits.revision[revision]!.view, turnedDeg, tolerances),
  );
  paired.push(...pairLookalikes({ traits, settled: [...paired], contested: mergeEdges(turned) }));
  const edges = mergeEdges(upright, turned);
  const unpaired = new Set(openEdges(edges, paired));
  paired.push(...lonePairs(edges, (edge) => unpaired.has(edge)));
  paired.push(...sameWording(traits, paired));
  const kept = withoutCopies({ traits, paired, edges });
  const repeated = repeatedPages({ traits, paired: kept, edges });
  const byPlace = pairByPlace({
    traits,
    paired: kept,
    apart: new Set(repeated.map(({ revisionPage }) => revisionPage - 1)),
  });
  const pairs = [
    ...kept.map((edge) => tellPair(traits, edge, false, tolerances)),
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

function pagesOutside({ dummy, revision }: BookTraits, paired: readonly Edge[]): BookTraits {
  const before = new Set(paired.map((edge) => edge.dummy));
  const after = new Set(paired.map((edge) => edge.revision));
  return {
    dummy: dummy.filter(({ index }) => !before.has(index)),
    revision: revision.filter(({ index }) => !after.has(index)),
  };
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
