import type { Word } from '../../model/index.ts';
import { TermNumbers } from './word-terms.ts';
import type { PageTerms } from './word-terms.ts';

/** A page's wording: each word and each two neighbours once, and how much each says about which page it is. */
export interface WordTraits {
  /** Words that count, folios and other bare numbers left out. */
  readonly count: number;
  /** Numbers of its terms, in both files the same for the same term. */
  readonly terms: Int32Array;
  /** Of each of `terms`: the rarer in both files, the heavier. */
  readonly weights: Float64Array;
  /** Sum of the weights. */
  readonly total: number;
  /** From 1, another one for each page. */
  readonly mark: number;
  /** One place a term, shared by all pages of both files: holds the mark of the page that was last looked up in. */
  readonly marks: Int32Array;
}

/**
 * The wording of all pages of both files. A running head, which stands on every page, weighs next to nothing; a word
 * that stands on one page weighs most. Null where a page has no text or was not drawn.
 *
 * @source weighting by rarity: inverse document frequency, Spärck Jones, J. Doc. 28 (1972), from memory
 */
export function wordTraits(files: readonly (readonly (readonly Word[] | null)[])[]): (WordTraits | null)[][] {
  const numbers = new TermNumbers();
  const pages = files.map((file) => file.map((words) => numbers.termsOf(words)));
  const weightOf = weightsOf(pages, numbers.size);
  const marks = new Int32Array(numbers.size);
  let mark = 0;
  return pages.map((file) =>
    file.map(({ count, terms: listed }) => {
      if (count === 0) return null;
      const terms = Int32Array.from(listed);
      const weights = new Float64Array(terms.length);
      let total = 0;
      for (let at = 0; at < terms.length; at++) total += weights[at] = weightOf[terms[at]!]!;
      return { count, terms, weights, total, mark: ++mark, marks };
    }),
  );
}

/** By term: the fewer pages of a file it stands on, the heavier; of both files the one that has it more often counts. */
function weightsOf(files: readonly (readonly PageTerms[])[], size: number): Float64Array {
  const pagesMost = Math.max(1, ...files.map((file) => file.length));
  const most = new Int32Array(size);
  for (const file of files) {
    const counts = new Int32Array(size);
    for (const { terms } of file) {
      for (const term of terms) {
        const count = ++counts[term]!;
        if (count > most[term]!) most[term] = count;
      }
    }
  }
  const weights = new Float64Array(size);
  for (let term = 0; term < size; term++) weights[term] = Math.log(1 + pagesMost / most[term]!);
  return weights;
}

/**
 * How unlike two pages' wordings are: 0 the same terms, 1 none in common. The same with roles swapped. Both pages are
 * of one call of `wordTraits`.
 */
export function wordUnlikeness(one: WordTraits, other: WordTraits): number {
  const [small, large] = one.terms.length <= other.terms.length ? [one, other] : [other, one];
  const common = weightInCommon(small, large);
  const all = one.total + other.total - common;
  return all > 0 ? 1 - common / all : 0;
}

/** A term is on the larger page where it holds that page's mark: no search for any. */
function weightInCommon({ terms, weights, marks }: WordTraits, large: WordTraits): number {
  const { terms: others, mark } = large;
  for (let at = 0; at < others.length; at++) marks[others[at]!] = mark;
  let common = 0;
  for (let at = 0; at < terms.length; at++) if (marks[terms[at]!] === mark) common += weights[at]!;
  return common;
}

/**
 * How much wording counts beside the looks of a page, which count 1. A page of type looks like any other page of type,
 * so there it counts twice; a caption tells two frames of one scene apart and no more.
 */
export function wordSay(one: WordTraits, other: WordTraits): number {
  return 0.2 + 1.8 * Math.min(1, Math.min(one.count, other.count) / 40);
}
