import type { Edge } from './edge.ts';
import type { BookTraits, PageTraits } from './page-traits.ts';
import { wordUnlikeness } from './word-traits.ts';

/** Fewer words than this, folios left out, may stand on any two pages. */
const ENOUGH_WORDS = 4;
/** Word for word the same, up to a mended spelling. */
const SAME = 0.1;
/** No other page may come near. */
const ANOTHER = 0.5;
/** More pages without a partner than this are not looked for. */
const MOST_OPEN = 200;

/**
 * Pairs pages that found nobody by their looks but read the same, and no other page does: one that was carried away and
 * lost its picture as well.
 */
export function sameWording({ dummy, revision }: BookTraits, paired: readonly Edge[]): Edge[] {
  const taken = {
    dummy: new Set(paired.map((edge) => edge.dummy)),
    revision: new Set(paired.map((edge) => edge.revision)),
  };
  const open = dummy.filter((page) => !taken.dummy.has(page.index) && isTelling(page));
  if (open.length > MOST_OPEN) return [];
  const [before, after] = [dummy.filter(isTelling), revision.filter(isTelling)];
  return open.flatMap((page) => {
    const [best, next] = byWording(page, after);
    if (best === undefined || taken.revision.has(best.index) || best.cost > SAME) return [];
    const [, rival] = byWording(revision[best.index]!, before);
    if (Math.min(next?.cost ?? 1, rival?.cost ?? 1) < ANOTHER) return [];
    return [{ dummy: page.index, revision: best.index, cost: best.cost, turnedDeg: 0 as const }];
  });
}

function isTelling({ words }: PageTraits): boolean {
  return words !== null && words.count >= ENOUGH_WORDS;
}

/** Pages by how unlike their wording is to that of one, the most alike first. */
function byWording(page: PageTraits, others: readonly PageTraits[]): { index: number; cost: number }[] {
  return others
    .map((other) => ({ index: other.index, cost: wordUnlikeness(page.words!, other.words!) }))
    .sort((one, other) => one.cost - other.cost);
}
