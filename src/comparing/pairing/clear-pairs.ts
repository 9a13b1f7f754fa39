import { groupEdges } from './edge.ts';
import type { Edge } from './edge.ts';
import { CLEAR_RATIO, CLEAR_STEP, LONE_STEP, SAME_ANYWHERE } from './limits-of-likeness.ts';

/**
 * Edges that need no second thought: each page is the other's best, it is the same page wherever it stands, and no
 * other page comes near. Two frames of one scene are never clear.
 */
export function clearPairs(edges: readonly Edge[]): Edge[] {
  return mutualBest(edges, (cost, next) => {
    const enough = Math.max(SAME_ANYWHERE, cost + CLEAR_STEP, cost * CLEAR_RATIO);
    return cost <= SAME_ANYWHERE && next >= enough;
  });
}

/** Altered pages out of their order: each other's best, and every other page far less alike. */
export function lonePairs(edges: readonly Edge[], isOpen: (edge: Edge) => boolean): Edge[] {
  return mutualBest(edges, (cost, next) => next >= cost + LONE_STEP).filter(isOpen);
}

function mutualBest(edges: readonly Edge[], isClear: (cost: number, next: number) => boolean): Edge[] {
  const byPage = groupEdges(edges);
  const clear: Edge[] = [];
  for (const [first] of byPage.dummy.values()) {
    if (first === undefined) continue;
    const { dummy, revision, cost } = first;
    const rivals = [
      ...byPage.dummy.get(dummy)!.filter((edge) => edge.revision !== revision),
      ...byPage.revision.get(revision)!.filter((edge) => edge.dummy !== dummy),
    ];
    if (isClear(cost, Math.min(1, ...rivals.map((edge) => edge.cost)))) clear.push(first);
  }
  return clear;
}
