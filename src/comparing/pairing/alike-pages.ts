import { coarseDistance } from './descriptor.ts';
import type { Edge } from './edge.ts';
import { SAME_ANYWHERE, SAME_IN_ORDER } from './limits-of-likeness.ts';
import { unlikeness } from './page-likeness.ts';
import type { BookTraits, PageTraits } from './page-traits.ts';
import type { QuarterTurn } from './page-view.ts';

/** Nearest pages of the other file that are looked at closely: more than any burst of frames of one scene. */
const CLOSE_LOOKS = 8;
/** A coarse distance at which no close look finds the same page: measured at most 0.12 for pages that are the same. */
const OUT_OF_SIGHT = 0.8;
/** Neighbours of the same place that are looked at in any case. */
const SAME_PLACE = 2;
/** A word or picture on more pages than this points nowhere. */
const POINTS_NOWHERE = 6;

/**
 * Edges between pages that look, read or are made alike, up to `SAME_IN_ORDER`. Every two pages are held against each
 * other coarsely (390 multiplications), only the nearest closely.
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

type Shortlist = ReadonlyMap<number, ReadonlySet<number>>;

function closeLooks(
  dummy: readonly PageTraits[],
  revision: readonly PageTraits[],
  list: Shortlist,
  turnedDeg: QuarterTurn,
): Edge[] {
  const edges: Edge[] = [];
  for (const [from, targets] of list) {
    for (const to of targets) {
      const [before, after] = [dummy[from]!, revision[to]!];
      const cost = unlikeness(before, after, turnedDeg).whole;
      if (cost <= SAME_IN_ORDER) edges.push({ dummy: before.index, revision: after.index, cost, turnedDeg });
    }
  }
  return edges;
}

/** For each place in `dummy` the places in `revision` worth a close look. */
function shortlist(
  dummy: readonly PageTraits[],
  revision: readonly PageTraits[],
  turnedDeg: QuarterTurn,
  most: number,
): Shortlist {
  const list = new Map<number, Set<number>>(dummy.map((_, from) => [from, new Set()]));
  const before = dummy.map((page) => page.descriptor(turnedDeg));
  const after = revision.map((page) => page.descriptor());
  const distances = before.map((one, from) => {
    const row = new Float64Array(after.length).fill(Infinity);
    for (let to = 0; to < row.length; to++) {
      const other = after[to]!;
      if (one === null || other === null) continue;
      const distance = coarseDistance(one, other);
      // Of even pages, which are all alike, those nearest by place are looked at.
      if (distance < OUT_OF_SIGHT) row[to] = distance + Math.abs(from - to) * 1e-7;
    }
    return row;
  });
  distances.forEach((row, from) => {
    for (const to of smallest(row, most)) list.get(from)!.add(to);
  });
  revision.forEach((_, to) => {
    const column = Float64Array.from(distances, (row) => row[to]!);
    for (const from of smallest(column, most)) list.get(from)!.add(to);
  });
  if (turnedDeg !== 0) return list;
  for (const [from, to] of pointed(dummy, revision)) list.get(from)!.add(to);
  dummy.forEach((_, from) => {
    for (let to = Math.max(0, from - SAME_PLACE); to <= Math.min(revision.length - 1, from + SAME_PLACE); to++) {
      list.get(from)!.add(to);
    }
  });
  return list;
}

/** Indices of the smallest finite values. */
function smallest(values: Float64Array, most: number): number[] {
  const found: number[] = [];
  values.forEach((value, index) => {
    if (!Number.isFinite(value)) return;
    if (found.length === most && value >= values[found[most - 1]!]!) return;
    let at = found.length;
    while (at > 0 && values[found[at - 1]!]! > value) at--;
    found.splice(at, 0, index);
    if (found.length > most) found.pop();
  });
  return found;
}

/** Pairs of places that rare words or shared picture data point to. */
function pointed(dummy: readonly PageTraits[], revision: readonly PageTraits[]): [number, number][] {
  const pointers = (page: PageTraits) => [
    ...(page.words?.weights.keys() ?? []),
    ...(page.pictures?.areas.keys() ?? []),
  ];
  const holders = new Map<string, number[]>();
  revision.forEach((page, to) => {
    for (const pointer of pointers(page)) {
      const known = holders.get(pointer);
      if (known === undefined) holders.set(pointer, [to]);
      else if (known.length <= POINTS_NOWHERE) known.push(to);
    }
  });
  return dummy.flatMap((page, from) => {
    const votes = new Map<number, number>();
    for (const pointer of pointers(page)) {
      const places = holders.get(pointer) ?? [];
      if (places.length > POINTS_NOWHERE) continue;
      for (const to of places) votes.set(to, (votes.get(to) ?? 0) + 1 / places.length);
    }
    const best = [...votes].sort((a, b) => b[1] - a[1]).slice(0, 4);
    return best.map(([to]): [number, number] => [from, to]);
  });
}
