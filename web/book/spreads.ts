/** What lies open at once: the pages at the left and at the right, from 1; null where there is none. */
export interface Spread {
  readonly left: number | null;
  readonly right: number | null;
}

/** The spreads of so many pages, bound at the left: page 1 stands alone at the right. */
export function spreadsOf(pages: number): readonly Spread[] {
  return Array.from({ length: Math.floor(pages / 2) + 1 }, (_, index) => ({
    left: index === 0 ? null : index * 2,
    right: index * 2 + 1 <= pages ? index * 2 + 1 : null,
  })).filter(({ left, right }) => left !== null || right !== null);
}

/** In which spread a page lies, from 0. */
export function spreadOf(pageNumber: number): number {
  return Math.floor(pageNumber / 2);
}
