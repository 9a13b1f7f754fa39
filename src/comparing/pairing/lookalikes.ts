import { assign } from '../sequence/assignment.ts';
import { groupEdges, openEdges } from './edge.ts';
import type { Edge } from './edge.ts';
import { isExchangeProven } from './exchange.ts';
import { heaviestRun } from './heaviest-run.ts';
import { MOST_LOOKALIKES, SAME_ANYWHERE, SAME_IN_ORDER } from './limits-of-likeness.ts';
import type { BookTraits } from './page-traits.ts';

/** An edge is dropped where one of its pages has another that is more alike by this much. */
const OUTDONE_BY = 0.1;
/** A pair that is no edge; dearer than any edge, so that as many edges as can be are taken. */
const NO_EDGE = 1;

/**
 * Pairs pages that have several lookalikes. First as the order has it: as many as can be in their place, the rest as
 * they are most alike. Then the most alike pairing regardless of order is held against it, and where the two differ the
 * order stands unless the pages prove the exchange.
 *
 * @param settled  pairs that are certain, for their order
 * @param contested  edges between pages that none of them holds
 */
export function pairLookalikes({
  traits,
  settled,
  contested,
}: {
  readonly traits: BookTraits;
  readonly settled: readonly Edge[];
  readonly contested: readonly Edge[];
}): Edge[] {
  const edges = withoutOutdone(contested);
  const settledPages = new Set(settled);
  const inOrder = heaviestRun({ settled, contested: edges }).filter((edge) => !settledPages.has(edge));
  const elsewhere = openEdges(edges, inOrder).filter(({ cost }) => cost <= SAME_ANYWHERE);
  const byOrder = [...inOrder, ...groupsOf(elsewhere).flatMap(mostAlike)];
  const byLikeness = groupsOf(edges).flatMap((group) => (mayReorder(group) ? mostAlike(group) : []));
  return exchangeWhereProven({ traits, byOrder, byLikeness });
}

function withoutOutdone(edges: readonly Edge[]): Edge[] {
  const byPage = groupEdges(edges);
  return edges.filter(({ dummy, revision, cost }) => {
    const best = Math.min(byPage.dummy.get(dummy)![0]!.cost, byPage.revision.get(revision)![0]!.cost);
    return cost <= SAME_IN_ORDER && cost <= best + OUTDONE_BY;
  });
}

/** Equal pages prove nothing, and in a great crowd of lookalikes no two stand out. */
function mayReorder(group: readonly Edge[]): boolean {
  return group.some(({ cost }) => cost > 0) && new Set(group.map(({ dummy }) => dummy)).size <= MOST_LOOKALIKES;
}

/** Edges that hang together by their pages. */
function groupsOf(edges: readonly Edge[]): Edge[][] {
  const byPage = groupEdges(edges);
  const groups: Edge[][] = [];
  const seen = new Set<Edge>();
  for (const first of edges) {
    if (seen.has(first)) continue;
    seen.add(first);
    const group = [first];
    const visited = new Set<readonly Edge[]>();
    for (let at = 0; at < group.length; at++) {
      const { dummy, revision } = group[at]!;
      for (const list of [byPage.dummy.get(dummy)!, byPage.revision.get(revision)!]) {
        if (visited.has(list)) continue;
        visited.add(list);
        for (const next of list) {
          if (!seen.has(next)) {
            seen.add(next);
            group.push(next);
          }
        }
      }
    }
    groups.push(group);
  }
  return groups;
}

/** The pairing within a group that is most alike in all. */
function mostAlike(group: readonly Edge[]): Edge[] {
  const ascending = (a: number, b: number) => a - b;
  const rows = [...new Set(group.map(({ dummy }) => dummy))].sort(ascending);
  const columns = [...new Set(group.map(({ revision }) => revision))].sort(ascending);
  if (Math.min(rows.length, columns.length) > MOST_LOOKALIKES) return firstFree(group);
  const rowOf = new Map(rows.map((dummy, row) => [dummy, row]));
  const columnOf = new Map(columns.map((revision, column) => [revision, column]));
  const chosen: (Edge | undefined)[][] = rows.map(() => []);
  for (const edge of group) {
    const row = chosen[rowOf.get(edge.dummy)!]!;
    const column = columnOf.get(edge.revision)!;
    const known = row[column];
    if (known === undefined || edge.cost < known.cost) row[column] = edge;
  }
  const cost = chosen.map((row) => columns.map((_, column) => row[column]?.cost ?? NO_EDGE));
  return assign(cost).flatMap((column, row) => (column === null ? [] : (chosen[row]![column] ?? [])));
}

/** The first edge of each page that is still free, the most alike first: for crowds. */
function firstFree(group: readonly Edge[]): Edge[] {
  const sorted = [...group].sort((a, b) => a.cost - b.cost || a.dummy - b.dummy || a.revision - b.revision);
  const taken = { dummy: new Set<number>(), revision: new Set<number>() };
  return sorted.filter(({ dummy, revision }) => {
    if (taken.dummy.has(dummy) || taken.revision.has(revision)) return false;
    taken.dummy.add(dummy);
    taken.revision.add(revision);
    return true;
  });
}

/** Where both pairings differ, their edges form rings and chains of pages; each is decided by itself. */
function exchangeWhereProven({
  traits,
  byOrder,
  byLikeness,
}: {
  readonly traits: BookTraits;
  readonly byOrder: readonly Edge[];
  readonly byLikeness: readonly Edge[];
}): Edge[] {
  const ordered = new Set(byOrder);
  const alike = new Set(byLikeness);
  const disputed = [...byOrder.filter((edge) => !alike.has(edge)), ...byLikeness.filter((edge) => !ordered.has(edge))];
  let result = [...byOrder];
  for (const group of groupsOf(disputed)) {
    const order = group.filter((edge) => ordered.has(edge));
    const exchange = group.filter((edge) => alike.has(edge));
    // An order that leaves a page alone was outdone there, which noise does not do.
    const isComplete = exchange.every(({ cost }) => cost <= SAME_ANYWHERE) && exchange.length > order.length;
    if (isComplete || (order.length === exchange.length && isExchangeProven({ traits, order, exchange }))) {
      const given = new Set(order);
      result = [...result.filter((edge) => !given.has(edge)), ...exchange];
    }
  }
  return result;
}
