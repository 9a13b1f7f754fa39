import type { Edge } from './edge.ts';
import { SAME_ANYWHERE, SAME_IN_ORDER } from './limits-of-likeness.ts';
import { nearestPages } from './nearest-pages.ts';
import { unlikenessWithin } from './page-likeness.ts';
import type { BookTraits, PageTraits } from './page-traits.ts';
import type { QuarterTurn } from './page-view.ts';
import { pointedPages } from './pointed-pages.ts';

/** Nearest pages of the other file that are looked at closely: more than any burst of frames of one scene. */
const CLOSE_LOOKS = 8;
/** Neighbours of the same place that are looked at in any case. */
const SAME_PLACE = 2;
/**
 * Edges between pages that look, read or are made alike, up to `SAME_IN_ORDER`. Every two pages are held against each
 * other coarsely (`nearestPages`), only the nearest closely.
 *
 * @param open  pages of both files that equal content did not settle; blank ones are passed over
 */
export function alikePages(open: BookTraits): Edge[] {
  const { dummy, revision } = withoutBlank(open);
  return closeLooks(dummy, revision, shortlist(dummy, revision, 0, CLOSE_LOOKS), 0);
}

/**
 * Edges between pages that are alike once the dummy's page is turned, up to `SAME_ANYWHERE`.
 *
 * @param open  pages of both files that found nobody as they stand; blank ones are passed over
 */
export function alikeTurned(open: BookTraits): Edge[] {
  const { dummy, revision } = withoutBlank(open);
  return ([90, 180, 270] as const).flatMap((turnedDeg) =>
    closeLooks(dummy, revision, shortlist(dummy, revision, turnedDeg, 3), turnedDeg).filter(
      ({ cost }) => cost <= SAME_ANYWHERE,
    ),
  );
}

function withoutBlank({ dummy, revision }: BookTraits): BookTraits {
  const shows = ({ view }: PageTraits) => view.blank !== true;
  return { dummy: dummy.filter(shows), revision: revision.filter(shows) };
}

type Shortlist = readonly ReadonlySet<number>[];

function closeLooks(
  dummy: readonly PageTraits[],
  revision: readonly PageTraits[],
  list: Shortlist,
  turnedDeg: QuarterTurn,
): Edge[] {
  const edges: Edge[] = [];
  list.forEach((targets, from) => {
    for (const to of targets) {
      const [before, after] = [dummy[from]!, revision[to]!];
      const cost = unlikenessWithin(before, after, turnedDeg, SAME_IN_ORDER);
      if (cost !== null) edges.push({ dummy: before.index, revision: after.index, cost, turnedDeg });
    }
  });
  return edges;
}

/** For each place in `dummy` the places in `revision` worth a close look. */
function shortlist(
  dummy: readonly PageTraits[],
  revision: readonly PageTraits[],
  turnedDeg: QuarterTurn,
  most: number,
): Shortlist {
  const { ofDummy, ofRevision } = nearestPages(
    dummy.map((page) => page.descriptor(turnedDeg)),
    revision.map((page) => page.descriptor()),
    most,
  );
  const list = ofDummy.map((places) => new Set(places));
  ofRevision.forEach((places, to) => places.forEach((from) => list[from]!.add(to)));
  if (turnedDeg !== 0) return list;
  pointedPages(dummy, revision).forEach((places, from) => places.forEach((to) => list[from]!.add(to)));
  list.forEach((targets, from) => {
    for (let to = Math.max(0, from - SAME_PLACE); to <= Math.min(revision.length - 1, from + SAME_PLACE); to++) {
      targets.add(to);
    }
  });
  return list;
}
