import type { Mm, PagePoint, Word } from '../model/index.ts';
import { medianOf } from './place-by-words.ts';

/** Words that stand nearer together tell too coarsely how far apart they are. */
const LEAST_MM = 30;
/** So many distances must be told, and so many of them agree. */
const FEWEST = 8;
const AGREE_SHARE = 0.6;
const MOST_OF_A_PAGE = 24;
const AGREE = 0.003;

/**
 * How large pages stand on their sheets against the dummy, however they are turned: by how far words of a page stand apart
 * that are once in the dummy and once on the sheets. Larger type alone does not move them apart.
 *
 * @param dummy  the words of each page
 * @param sides  the words of each side
 * @returns over the dummy; null where too few words tell it, or they do not agree
 */
export function scaleByWords(dummy: readonly (readonly Word[])[], sides: readonly (readonly Word[])[]): number | null {
  const [were, are] = [placesOfWordsOnce(dummy), placesOfWordsOnce(sides)];
  const scales = dummy.flatMap((page) => {
    const known = page.filter(({ text }) => were.has(text) && are.has(text)).map(({ text }) => text);
    return known.slice(0, MOST_OF_A_PAGE).flatMap((text) => {
      let far = { text, mm: 0 };
      for (const other of known) {
        const mm = distance(were.get(text)!, were.get(other)!);
        if (mm > far.mm) far = { text: other, mm };
      }
      return far.mm < LEAST_MM ? [] : [distance(are.get(text)!, are.get(far.text)!) / far.mm];
    });
  });
  if (scales.length < FEWEST) return null;
  const scale = medianOf(scales);
  const agreeing = scales.filter((each) => Math.abs(each / scale - 1) <= AGREE);
  return agreeing.length >= AGREE_SHARE * scales.length ? scale : null;
}

function placesOfWordsOnce(pages: readonly (readonly Word[])[]): ReadonlyMap<string, PagePoint> {
  const once = new Map<string, PagePoint>();
  const more = new Set<string>();
  for (const { text, origin } of pages.flat()) {
    if (once.has(text)) more.add(text);
    once.set(text, origin);
  }
  for (const text of more) once.delete(text);
  return once;
}

function distance(one: PagePoint, other: PagePoint): Mm {
  return Math.hypot(one.x - other.x, one.y - other.y);
}
