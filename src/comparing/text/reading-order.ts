import type { Word } from '../../model/index.ts';

/** Baselines that lie closer than this share of the type size are one line. */
const SAME_LINE = 0.25;
const MM_PER_PT = 25.4 / 72;

/**
 * Words in lines from top to bottom, each from left to right; turned words after the upright ones, by their turn. Not
 * always the order of the author (columns interleave), but the same for both files, which is what a comparison needs.
 */
export function inReadingOrder(words: readonly Word[]): readonly Word[] {
  const turns = new Map<number, Word[]>();
  for (const word of words) {
    const turn = ((Math.round(word.turnDeg) % 360) + 360) % 360;
    turns.set(turn, [...(turns.get(turn) ?? []), word]);
  }
  return [...turns.entries()]
    .sort(([one], [other]) => one - other)
    .flatMap(([turn, group]) => linesOf(group, turn).flat());
}

/** All lines of some words, whichever way they are turned. */
export function allLinesOf(words: readonly Word[]): readonly (readonly Word[])[] {
  const turns = new Set(words.map(({ turnDeg }) => Math.round(turnDeg)));
  return [...turns].flatMap((turn) => [
    ...linesOf(
      words.filter(({ turnDeg }) => Math.round(turnDeg) === turn),
      turn,
    ),
  ]);
}

/** Groups words that share a baseline; each line from its beginning to its end. */
export function linesOf(words: readonly Word[], turnDeg: number): readonly (readonly Word[])[] {
  const along = (word: Word): number => project(word, turnDeg, 'along');
  const down = (word: Word): number => project(word, turnDeg, 'down');
  const sorted = [...words].sort((one, other) => down(one) - down(other) || along(one) - along(other));
  const lines: Word[][] = [];
  for (const word of sorted) {
    const line = lines.at(-1);
    const reach = SAME_LINE * word.sizePt * MM_PER_PT;
    if (line !== undefined && down(word) - down(line[0]!) <= reach) line.push(word);
    else lines.push([word]);
  }
  for (const line of lines) line.sort((one, other) => along(one) - along(other));
  return lines;
}

function project({ origin }: Word, turnDeg: number, axis: 'along' | 'down'): number {
  const turn = (turnDeg * Math.PI) / 180;
  return axis === 'along'
    ? origin.x * Math.cos(turn) + origin.y * Math.sin(turn)
    : origin.y * Math.cos(turn) - origin.x * Math.sin(turn);
}
