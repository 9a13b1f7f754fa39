import type { Box, Word } from '../../model/index.ts';
import { intersectBoxes, uniteBoxes } from '../../model/index.ts';
import { growBox } from '../regions/cover.ts';

/** Unmatched words of both files that stand together: one place where the text changed. */
export interface WordCluster {
  readonly dummy: readonly Word[];
  readonly revision: readonly Word[];
}

const MM_PER_PT = 25.4 / 72;

/** Gathers words that stand next to each other, in a line or in neighbouring lines, whichever file they come from. */
export function clusterWords(dummy: readonly Word[], revision: readonly Word[]): readonly WordCluster[] {
  const entries = [...dummy.map((word) => ({ word, side: 0 })), ...revision.map((word) => ({ word, side: 1 }))];
  const reach = entries.map(({ word }) => growBox(word.box, 0.35 * word.sizePt * MM_PER_PT));
  const parent = entries.map((_, index) => index);
  const find = (index: number): number => {
    let at = index;
    while (parent[at] !== at) at = parent[at] = parent[parent[at]!]!;
    return at;
  };
  const byTop = entries.map((_, index) => index).sort((one, other) => reach[one]!.y - reach[other]!.y);
  byTop.forEach((one, nth) => {
    const bottom = reach[one]!.y + reach[one]!.height;
    for (let next = nth + 1; next < byTop.length; next++) {
      const other = byTop[next]!;
      if (reach[other]!.y > bottom) break;
      if (intersectBoxes(reach[one]!, reach[other]!) !== null) parent[find(one)] = find(other);
    }
  });
  const clusters = new Map<number, { dummy: Word[]; revision: Word[] }>();
  entries.forEach(({ word, side }, index) => {
    const root = find(index);
    const cluster = clusters.get(root) ?? { dummy: [], revision: [] };
    cluster[side === 0 ? 'dummy' : 'revision'].push(word);
    clusters.set(root, cluster);
  });
  return [...clusters.values()];
}

/** The box around words, or null where there are none. */
export function boxAround(words: readonly Word[]): Box | null {
  return words.length === 0 ? null : words.map(({ box }) => box).reduce(uniteBoxes);
}
