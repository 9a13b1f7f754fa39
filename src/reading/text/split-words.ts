import type { Glyph } from './glyph.ts';
import { isSpace } from './characters.ts';
import { layOnBaseline, type Laid } from './baseline.ts';

/** A gap that ends a word, in parts of the font size, beyond the run's own letterspacing. */
const WORD_GAP = 0.15;
/** Glyphs further apart than this belong to different runs: a tab, another column. */
const RUN_GAP = 2;
/** A step back further than this starts another run; accents and kerning step back less. */
const STEP_BACK = 0.8;
/** A baseline shifted by more is another one: an index figure, a drop initial. */
const BASELINE_SHIFT = 0.15;
/** Cosine of the least angle between two directions. */
const SAME_DIRECTION = 0.9999;
/** Letterspacing is told from gaps between at least so many pairs. */
const FEW_PAIRS = 4;
/** Both of a pair: the dots that lead to a page number are no letterspacing. */
const LETTERS = /^[\p{L}\p{N}]+$/u;
/** More than this between most letters is no letterspacing but words set one letter at a time. */
const MOST_LETTERSPACING = 0.5;

interface Token {
  readonly laid: Laid;
  readonly afterSpace: boolean;
}

/** The glyphs of each word, in drawing order; spaces are dropped. */
export function splitWords(glyphs: readonly Glyph[]): readonly (readonly Laid[])[] {
  const words: Laid[][] = [];
  for (const run of splitRuns(glyphs)) {
    const spacing = letterspacing(run);
    let word: Laid[] = [];
    run.forEach(({ laid, afterSpace }, at) => {
      const previous = run[at - 1]?.laid;
      const gap = previous === undefined ? 0 : (laid.start - previous.end) / sizeOf(previous, laid);
      if (word.length > 0 && (afterSpace || gap - spacing > WORD_GAP)) {
        words.push(word);
        word = [];
      }
      word.push(laid);
    });
    if (word.length > 0) words.push(word);
  }
  return words;
}

function splitRuns(glyphs: readonly Glyph[]): readonly (readonly Token[])[] {
  const runs: Token[][] = [];
  let run: Token[] = [];
  let previous: Laid | null = null;
  let afterSpace = false;
  for (const glyph of glyphs) {
    const laid = layOnBaseline(glyph);
    if (laid === null || glyph.text === '') continue;
    if (isSpace(glyph.text)) {
      afterSpace = true;
      continue;
    }
    if (previous !== null && !continues(previous, laid)) {
      runs.push(run);
      run = [];
      afterSpace = false;
    }
    run.push({ laid, afterSpace });
    afterSpace = false;
    previous = laid;
  }
  runs.push(run);
  return runs;
}

function continues(previous: Laid, next: Laid): boolean {
  const { direction } = previous;
  const size = sizeOf(previous, next);
  const gap = (next.start - previous.end) / size;
  return (
    direction.x * next.direction.x + direction.y * next.direction.y > SAME_DIRECTION &&
    Math.abs(next.across - previous.across) < BASELINE_SHIFT * size &&
    gap < RUN_GAP &&
    gap > -STEP_BACK - next.glyph.width
  );
}

/** The gap that most neighbouring letters of a run share, in parts of the font size: tracking, not words. */
function letterspacing(run: readonly Token[]): number {
  const gaps: number[] = [];
  run.forEach(({ laid, afterSpace }, at) => {
    const previous = run[at - 1]?.laid;
    if (previous === undefined || afterSpace || !LETTERS.test(previous.glyph.text + laid.glyph.text)) return;
    gaps.push((laid.start - previous.end) / sizeOf(previous, laid));
  });
  if (gaps.length < FEW_PAIRS) return 0;
  gaps.sort((one, other) => one - other);
  const middle = gaps[gaps.length >> 1] ?? 0;
  return middle > 0 && middle < MOST_LETTERSPACING ? middle : 0;
}

function sizeOf(one: Laid, other: Laid): number {
  return Math.min(one.size, other.size);
}
