import type { Word } from '../../model/index.ts';
import { allLinesOf } from './reading-order.ts';

/**
 * Words whose place is empty because their line became shorter: next to them in their line, with nothing unchanged between,
 * stand words of other shapes. They are part of that change, not words that are gone.
 *
 * @param gone     words of a page whose place is empty on the other
 * @param changed  words of that page whose place shows something else
 * @param all      all words of that page
 */
export function goneWithLines(
  gone: readonly Word[],
  changed: readonly Word[],
  all: readonly Word[],
): ReadonlySet<Word> {
  if (gone.length === 0 || changed.length === 0) return new Set();
  const [isGone, isChanged] = [new Set(gone), new Set(changed)];
  const carried = new Set<Word>();
  for (const line of allLinesOf(all)) {
    let run: Word[] = [];
    const close = (): void => {
      if (run.some((word) => isChanged.has(word))) for (const word of run) if (isGone.has(word)) carried.add(word);
      run = [];
    };
    for (const word of line) {
      if (isGone.has(word) || isChanged.has(word)) run.push(word);
      else close();
    }
    close();
  }
  return carried;
}
