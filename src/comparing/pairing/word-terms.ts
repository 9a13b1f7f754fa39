import type { Word } from '../../model/index.ts';

/** A page's terms: its words and each two neighbours, folios and other bare numbers left out. */
export interface PageTerms {
  /** Words that count. */
  readonly count: number;
  /** Numbers of its terms, each once, as they first occur. */
  readonly terms: readonly number[];
}

/** Gives every term of both files a number, so that pages are held against each other without their letters. */
export class TermNumbers {
  /** By a word as it is set: the number of what counts of it, or -1 where nothing does. */
  readonly #byWord = new Map<string, number>();
  readonly #byText = new Map<string, number>();
  /** By the numbers of two words as one number: there are far too many pairs to put their texts together. */
  readonly #byPair = new Map<number, number>();
  /** Of each word's number what counts of it. */
  readonly #texts: string[] = [];
  /** Of each term the page that it was last seen on. */
  readonly #seenOn: number[] = [];
  #page = 0;

  /** How many numbers there are. */
  get size(): number {
    return this.#seenOn.length;
  }

  /** Terms of one page; none where the page has no text or was not drawn. */
  termsOf(words: readonly Word[] | null): PageTerms {
    this.#page++;
    const terms: number[] = [];
    const take = (term: number) => {
      if (this.#seenOn[term] === this.#page) return;
      this.#seenOn[term] = this.#page;
      terms.push(term);
    };
    const plain: number[] = [];
    for (const { text } of words ?? []) {
      const term = this.#numberOfWord(text);
      if (term < 0) continue;
      plain.push(term);
      take(term);
    }
    for (let index = 1; index < plain.length; index++) take(this.#numberOfPair(plain[index - 1]!, plain[index]!));
    return { count: plain.length, terms };
  }

  #numberOfWord(text: string): number {
    const known = this.#byWord.get(text);
    if (known !== undefined) return known;
    const plain = text
      .normalize('NFKC')
      .toLowerCase()
      .replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, '');
    const counts = plain !== '' && !/^\p{N}{1,4}$/u.test(plain); // a folio follows the place, not the page
    const term = counts ? this.#numberOf(plain) : -1;
    this.#byWord.set(text, term);
    return term;
  }

  /** A word with a space within is the same term as the two words that it reads like. */
  #numberOf(plain: string): number {
    const [first, second, ...more] = plain.split(' ');
    const isPair = first !== undefined && second !== undefined && more.length === 0;
    const term = isPair ? this.#numberOfPair(this.#numberOf(first), this.#numberOf(second)) : this.#numberOfText(plain);
    this.#texts[term] = plain;
    return term;
  }

  #numberOfPair(first: number, second: number): number {
    const pair = first * MOST_TERMS + second;
    const known = this.#byPair.get(pair);
    if (known !== undefined) return known;
    const [before, after] = [this.#texts[first]!, this.#texts[second]!];
    const isSpaced = before.includes(' ') || after.includes(' ');
    const term = isSpaced ? this.#numberOfText(`${before} ${after}`) : this.#seenOn.push(0) - 1;
    this.#byPair.set(pair, term);
    return term;
  }

  #numberOfText(text: string): number {
    const known = this.#byText.get(text);
    if (known !== undefined) return known;
    const term = this.#seenOn.push(0) - 1;
    this.#byText.set(text, term);
    return term;
  }
}

/** More than any two files have: two numbers below it make one that a number still holds. */
const MOST_TERMS = 2 ** 26;
