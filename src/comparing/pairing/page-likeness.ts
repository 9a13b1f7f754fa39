import type { PageTraits } from './page-traits.ts';
import type { QuarterTurn } from './page-view.ts';
import { pictureUnlikeness } from './picture-traits.ts';
import { unexplained } from './unexplained.ts';
import { wordSay, wordUnlikeness } from './word-traits.ts';

/** How unlike two pages are, each from 0 (the same) to 1; null where it cannot be told. */
export interface Unlikeness {
  /** Of the looks, what a conversion does not explain. */
  readonly looks: number | null;
  readonly words: number | null;
  readonly pictures: number | null;
  /** The mean of what can be told, each with its say; 1 where nothing can. */
  readonly whole: number;
}

/**
 * How unlike two pages are by looks, wording and picture data.
 *
 * @param turnedDeg  by how much the dummy's page is turned clockwise before its looks are compared
 */
export function unlikeness(dummy: PageTraits, revision: PageTraits, turnedDeg: QuarterTurn = 0): Unlikeness {
  const data = ofData(dummy, revision);
  const looks = looksOf(dummy, revision, turnedDeg);
  return { looks, words: data.words, pictures: data.pictures, whole: wholeOf(looks, data) };
}

/**
 * The whole of how unlike two pages are, or null where that is more than `most`. Their looks, which take the longest,
 * are passed over where wording and picture data settle it: pages that look the same would still be too unlike.
 */
export function unlikenessWithin(
  dummy: PageTraits,
  revision: PageTraits,
  turnedDeg: QuarterTurn,
  most: number,
): number | null {
  const data = ofData(dummy, revision);
  const areDrawn = dummy.view.signature !== null && revision.view.signature !== null;
  if (areDrawn && wholeOf(0, data) > most) return null;
  const whole = wholeOf(looksOf(dummy, revision, turnedDeg), data);
  return whole <= most ? whole : null;
}

function looksOf(dummy: PageTraits, revision: PageTraits, turnedDeg: QuarterTurn): number | null {
  const [before, after] = [dummy.descriptor(turnedDeg), revision.descriptor()];
  return before === null || after === null ? null : unexplained(before, after);
}

/** What wording and picture data say, and how much wording counts. */
interface OfData {
  readonly words: number | null;
  readonly weight: number;
  readonly pictures: number | null;
}

function ofData({ words: before, pictures: shown }: PageTraits, { words: after, pictures }: PageTraits): OfData {
  const areWorded = before !== null && after !== null;
  return {
    words: areWorded ? wordUnlikeness(before, after) : null,
    weight: areWorded ? wordSay(before, after) : 0,
    pictures: shown === null || pictures === null ? null : pictureUnlikeness(shown, pictures),
  };
}

function wholeOf(looks: number | null, { words, weight, pictures }: OfData): number {
  let sum = 0;
  let say = 0;
  if (looks !== null) {
    sum += looks;
    say += 1;
  }
  if (words !== null) {
    sum += weight * words;
    say += weight;
  }
  if (pictures !== null) {
    sum += pictures;
    say += 1;
  }
  return say === 0 ? 1 : sum / say;
}
