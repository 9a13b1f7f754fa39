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
  const [before, after] = [dummy.descriptor(turnedDeg), revision.descriptor()];
  const looks = before === null || after === null ? null : unexplained(before, after);
  const words = dummy.words === null || revision.words === null ? null : wordUnlikeness(dummy.words, revision.words);
  const pictures =
    dummy.pictures === null || revision.pictures === null ? null : pictureUnlikeness(dummy.pictures, revision.pictures);
  let sum = 0;
  let say = 0;
  if (looks !== null) {
    sum += looks;
    say += 1;
  }
  if (words !== null && dummy.words !== null && revision.words !== null) {
    const weight = wordSay(dummy.words, revision.words);
    sum += weight * words;
    say += weight;
  }
  if (pictures !== null) {
    sum += pictures;
    say += 1;
  }
  return { looks, words, pictures, whole: say === 0 ? 1 : sum / say };
}
