import type { Edge } from './edge.ts';
import type { PageTraits, BookTraits } from './page-traits.ts';
import type { PageView } from './page-view.ts';

/** Places of pages in their file by key; pages without a key are left out. */
function placesByKey<P>(pages: readonly P[], keyFor: (page: P) => string | null): Map<string, number[]> {
  const places = new Map<string, number[]>();
  pages.forEach((page, index) => {
    const key = keyFor(page);
    if (key === null) return;
    const known = places.get(key);
    if (known === undefined) places.set(key, [index]);
    else known.push(index);
  });
  return places;
}

/** What equal pages share: the content hash, or, of blank pages, that they are blank. */
function keyOf({ view }: PageTraits): string | null {
  return view.blank === true ? 'blank' : view.contentHash;
}

/** About as many edges as a thousand equal pages get; the n-th of them is then held only against those about the n-th. */
const EDGES_OF_A_KEY = 20_000;

/** Edges between pages that are equal: those without a rival, which are settled, and those that the order must settle. */
export function equalPages({ dummy, revision }: BookTraits): { settled: Edge[]; contested: Edge[] } {
  const settled: Edge[] = [];
  const contested: Edge[] = [];
  const after = placesByKey(revision, keyOf);
  for (const [key, before] of placesByKey(dummy, keyOf)) {
    const others = after.get(key) ?? [];
    const alone = before.length === 1 && others.length === 1;
    const reach = Math.abs(before.length - others.length) + Math.max(8, Math.ceil(EDGES_OF_A_KEY / before.length));
    before.forEach((from, rank) => {
      for (const to of others.slice(Math.max(0, rank - reach), rank + reach + 1)) {
        (alone ? settled : contested).push({ dummy: from, revision: to, cost: 0, turnedDeg: 0 });
      }
    });
  }
  return { settled, contested };
}

/**
 * Which pages must be drawn before `pairPages` can pair them: those whose content the other file does not have, and one
 * of each content that one file has more often than the other. Page numbers, ascending; only hashes are looked at.
 */
export function pagesToDraw(views: {
  readonly dummy: readonly Pick<PageView, 'pageNumber' | 'contentHash'>[];
  readonly revision: readonly Pick<PageView, 'pageNumber' | 'contentHash'>[];
}): { readonly dummy: readonly number[]; readonly revision: readonly number[] } {
  const before = placesByKey(views.dummy, ({ contentHash }) => contentHash);
  const after = placesByKey(views.revision, ({ contentHash }) => contentHash);
  const wanted = (hash: string | null, index: number, own: typeof before, other: typeof before) => {
    if (hash === null) return false;
    const [mine, theirs] = [own.get(hash)!, other.get(hash)];
    if (theirs === undefined) return true;
    return own === before && mine.length !== theirs.length && mine[0] === index;
  };
  return {
    dummy: views.dummy
      .filter(({ contentHash }, index) => wanted(contentHash, index, before, after))
      .map(({ pageNumber }) => pageNumber),
    revision: views.revision
      .filter(({ contentHash }, index) => wanted(contentHash, index, after, before))
      .map(({ pageNumber }) => pageNumber),
  };
}
