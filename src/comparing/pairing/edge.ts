import type { QuarterTurn } from './page-view.ts';

/** Two pages that may be one: indices from 0 in file order, and how unlike they are. */
export interface Edge {
  readonly dummy: number;
  readonly revision: number;
  /** 0 the same, 1 nothing in common. */
  readonly cost: number;
  readonly turnedDeg: QuarterTurn;
}

/** Edges of each page, by side and index. */
export interface EdgesByPage {
  readonly dummy: ReadonlyMap<number, readonly Edge[]>;
  readonly revision: ReadonlyMap<number, readonly Edge[]>;
}

/** Edges listed under both their ends, the most alike first. */
export function groupEdges(edges: readonly Edge[]): EdgesByPage {
  const sorted = [...edges].sort((a, b) => a.cost - b.cost);
  return {
    dummy: Map.groupBy(sorted, ({ dummy }) => dummy),
    revision: Map.groupBy(sorted, ({ revision }) => revision),
  };
}

/** Edges whose two pages have no partner yet. */
export function openEdges(edges: readonly Edge[], paired: readonly Edge[]): Edge[] {
  const dummy = new Set(paired.map((edge) => edge.dummy));
  const revision = new Set(paired.map((edge) => edge.revision));
  return edges.filter((edge) => !dummy.has(edge.dummy) && !revision.has(edge.revision));
}
