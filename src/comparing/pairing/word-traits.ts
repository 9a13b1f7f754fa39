import type { Word } from '../../model/index.ts';

/** A page's wording: each word and each two neighbours once, and how much each says about which page it is. */
export interface WordTraits {
  /** Words that count, folios and other bare numbers left out. */
  readonly count: number;
  /** Term to weight: the rarer in both files, the heavier. */
  readonly weights: ReadonlyMap<string, number>;
  /** Sum of the weights. */
  readonly total: number;
}

/** Terms of one page, in no order; none where the page has no text or was not drawn. */
function termsOf(words: readonly Word[] | null): { readonly count: number; readonly terms: ReadonlySet<string> } {
  const plain = (words ?? [])
    .map(({ text }) =>
      text
        .normalize('NFKC')
        .toLowerCase()
        .replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, ''),
    )
    .filter((text) => text !== '' && !/^\p{N}{1,4}$/u.test(text)); // a folio follows the place, not the page
  const terms = new Set(plain);
  for (let index = 1; index < plain.length; index++) terms.add(`${plain[index - 1]} ${plain[index]}`);
  return { count: plain.length, terms };
}

/**
 * The wording of all pages of both files. A running head, which stands on every page, weighs next to nothing; a word
 * that stands on one page weighs most.
 *
 * @source weighting by rarity: inverse document frequency, Spärck Jones, J. Doc. 28 (1972), from memory
 */
export function wordTraits(files: readonly (readonly (readonly Word[] | null)[])[]): (WordTraits | null)[][] {
  const pages = files.map((file) => file.map(termsOf));
  const most = Math.max(1, ...files.map((file) => file.length));
  const standsOn = pages.map((file) => {
    const counts = new Map<string, number>();
    for (const { terms } of file) for (const term of terms) counts.set(term, (counts.get(term) ?? 0) + 1);
    return counts;
  });
  const weightOf = (term: string) => Math.log(1 + most / Math.max(...standsOn.map((counts) => counts.get(term) ?? 0)));
  return pages.map((file) =>
    file.map(({ count, terms }) => {
      if (count === 0) return null;
      const weights = new Map<string, number>();
      let total = 0;
      for (const term of terms) {
        const weight = weightOf(term);
        weights.set(term, weight);
        total += weight;
      }
      return { count, weights, total };
    }),
  );
}

/** How unlike two pages' wordings are: 0 the same terms, 1 none in common. The same with roles swapped. */
export function wordUnlikeness(one: WordTraits, other: WordTraits): number {
  const [small, large] = one.weights.size <= other.weights.size ? [one, other] : [other, one];
  let common = 0;
  for (const [term, weight] of small.weights) if (large.weights.has(term)) common += weight;
  const all = one.total + other.total - common;
  return all > 0 ? 1 - common / all : 0;
}

/**
 * How much wording counts beside the looks of a page, which count 1. A page of type looks like any other page of type,
 * so there it counts twice; a caption tells two frames of one scene apart and no more.
 */
export function wordSay(one: WordTraits, other: WordTraits): number {
  return 0.2 + 1.8 * Math.min(1, Math.min(one.count, other.count) / 40);
}
