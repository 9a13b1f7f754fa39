import type { Edge } from './edge.ts';
import { longestIncreasingRun } from '../sequence/longest-increasing-run.ts';

/** So little that no number of pages adds up to one page more in its place. */
const NICETY = 1e-6;
/** A hundredth of unlikeness outweighs the distance from the neighbours: less than that is noise. */
const COST_SAY = 100;

/**
 * Of all edges, a set in rising order on both sides, no page twice, as large as can be; among equally large sets the
 * more alike pages and then those at the same distance from their settled neighbours.
 *
 * @param settled  edges that may be relied on; they take part
 * @param contested  edges of which each page can take one
 * @source heaviest increasing subsequence over a Fenwick tree; common practice, no source
 */
export function heaviestRun({ settled, contested }: { settled: readonly Edge[]; contested: readonly Edge[] }): Edge[] {
  const keepsDistance = distanceJudge(settled);
  const edges = [...settled, ...contested].sort((a, b) => a.dummy - b.dummy || b.revision - a.revision);
  const size = edges.reduce((most, { revision }) => Math.max(most, revision + 1), 0);
  const weights = new Float64Array(edges.length);
  const before = new Int32Array(edges.length).fill(-1);
  // tree[k]: the edge that ends the heaviest run within its stretch of revision pages.
  const tree = new Int32Array(size + 1).fill(-1);
  let last = -1;
  edges.forEach((edge, index) => {
    let best = -1;
    for (let at = edge.revision; at > 0; at -= at & -at) {
      const end = tree[at]!;
      if (end >= 0 && (best < 0 || weights[end]! > weights[best]!)) best = end;
    }
    before[index] = best;
    weights[index] = (best < 0 ? 0 : weights[best]!) + 1 + NICETY * (COST_SAY * (1 - edge.cost) + keepsDistance(edge));
    for (let at = edge.revision + 1; at <= size; at += at & -at) {
      const end = tree[at]!;
      if (end < 0 || weights[index] > weights[end]!) tree[at] = index;
    }
    if (last < 0 || weights[index] > weights[last]!) last = index;
  });
  const run: Edge[] = [];
  for (let index = last; index >= 0; index = before[index]!) run.push(edges[index]!);
  return run.reverse();
}

/** 1 where a page stands as far behind its settled neighbour as in the dummy, 0.9 where as far before the next, else 0. */
function distanceJudge(settled: readonly Edge[]): (edge: Edge) => number {
  const inOrder = [...settled].sort((a, b) => a.revision - b.revision);
  const backbone = longestIncreasingRun(inOrder.map(({ dummy }) => dummy)).map((index) => inOrder[index]!);
  return ({ dummy, revision }) => {
    let low = 0;
    let high = backbone.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (backbone[middle]!.dummy < dummy) low = middle + 1;
      else high = middle;
    }
    const previous = backbone[low - 1] ?? { dummy: -1, revision: -1 };
    const next = backbone[low];
    if (dummy - previous.dummy === revision - previous.revision) return 1;
    return next !== undefined && next.dummy - dummy === next.revision - revision ? 0.9 : 0;
  };
}
