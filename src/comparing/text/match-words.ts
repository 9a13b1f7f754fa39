import type { Word } from '../../model/index.ts';

/** A word that stands in both files, by its wording and its place. */
export interface WordPair {
  readonly dummy: Word;
  readonly revision: Word;
}

/** Words matched by wording and place, and what is left on each side. */
export interface WordMatch {
  readonly pairs: readonly WordPair[];
  readonly dummyOnly: readonly Word[];
  readonly revisionOnly: readonly Word[];
}

/**
 * Matches words that read the same and start at the same place within the reach; the nearest first.
 *
 * @param reachMm  how far apart two origins may lie
 */
export function matchWords(dummy: readonly Word[], revision: readonly Word[], reachMm: number): WordMatch {
  const byText = new Map<string, { word: Word; taken: boolean }[]>();
  for (const word of revision) {
    const list = byText.get(word.text);
    if (list === undefined) byText.set(word.text, [{ word, taken: false }]);
    else list.push({ word, taken: false });
  }
  const pairs: WordPair[] = [];
  const dummyOnly: Word[] = [];
  for (const word of dummy) {
    let best: { word: Word; taken: boolean } | null = null;
    let bestDistance = reachMm;
    for (const entry of byText.get(word.text) ?? []) {
      if (entry.taken) continue;
      const distance = Math.hypot(entry.word.origin.x - word.origin.x, entry.word.origin.y - word.origin.y);
      if (distance <= bestDistance) {
        best = entry;
        bestDistance = distance;
      }
    }
    if (best === null) dummyOnly.push(word);
    else {
      best.taken = true;
      pairs.push({ dummy: word, revision: best.word });
    }
  }
  const revisionOnly = [...byText.values()].flat().flatMap(({ word, taken }) => (taken ? [] : [word]));
  return { pairs, dummyOnly, revisionOnly };
}
