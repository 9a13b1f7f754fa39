import type { Word } from '../model/index.ts';
import { medianOf } from './place-by-words.ts';

/** So many words must be on the dummy and on the sheets once each, and so many of them be scaled alike. */
const FEWEST = 8;
const AGREE_SHARE = 0.6;
const AGREE = 0.003;
/** Shorter words are measured too coarsely. */
const LEAST_MM = 4;

/**
 * How large pages stand on their sheets against the dummy, by the words that stand once on either; however they are turned.
 *
 * @param dummy  the words of each page
 * @param sides  the words of each side
 * @returns over the dummy; null where too few words tell it, or they do not agree
 */
export function scaleByWords(dummy: readonly (readonly Word[])[], sides: readonly (readonly Word[])[]): number | null {
  const [was, is] = [longWordsOnce(dummy), longWordsOnce(sides)];
  const scales = [...was].flatMap(([text, length]) => {
    const there = is.get(text);
    return there === undefined || length < LEAST_MM ? [] : [there / length];
  });
  if (scales.length < FEWEST) return null;
  const scale = medianOf(scales);
  const agreeing = scales.filter((each) => Math.abs(each / scale - 1) <= AGREE);
  return agreeing.length >= AGREE_SHARE * scales.length ? scale : null;
}

/** By text, the diagonal in mm, which no turn changes. */
function longWordsOnce(pages: readonly (readonly Word[])[]): ReadonlyMap<string, number> {
  const once = new Map<string, number>();
  const more = new Set<string>();
  for (const { text, box } of pages.flat()) {
    if (once.has(text)) more.add(text);
    once.set(text, Math.hypot(box.width, box.height));
  }
  for (const text of more) once.delete(text);
  return once;
}
