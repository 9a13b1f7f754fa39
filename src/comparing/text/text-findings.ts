import type { Box, FindingOf, Word } from '../../model/index.ts';
import { describeShift } from '../pictures/picture-sentences.ts';
import { boxAround } from './word-clusters.ts';

/** The pages a text finding is about. */
export interface AboutPages {
  readonly dummyPage: number;
  readonly revisionPage: number;
}

type TextFinding = FindingOf<'text-changed'>;

/** Wording as a reader sees it, cut short in the middle where it is long. */
export function quoteWords(words: readonly Word[]): string {
  return words.map(({ text }) => text).join(' ');
}

/**
 * Words that read differently, that are gone or that are new.
 *
 * @param near  the place where something changed; it stands for the words on the side that has none
 */
export function sayReworded(
  about: AboutPages,
  before: readonly Word[],
  after: readonly Word[],
  near: Box,
): TextFinding {
  const [was, is] = [quoteWords(before), quoteWords(after)];
  const says =
    was === ''
      ? `New words: “${shorten(is)}”.`
      : is === ''
        ? `Words are gone: “${shorten(was)}”.`
        : `“${shorten(was)}” now reads “${shorten(is)}”.`;
  return textFinding(about, { before: was, after: is }, boxAround(before) ?? near, boxAround(after) ?? near, says);
}

/** The same words at another place. */
export function sayWordsMoved(about: AboutPages, before: readonly Word[], after: readonly Word[]): TextFinding {
  const shift = meanShift(before, after);
  const says = `Type moved ${describeShift(shift.x, shift.y)}: “${shorten(quoteWords(before))}”.`;
  const texts = { before: quoteWords(before), after: quoteWords(after) };
  return textFinding(about, texts, boxAround(before)!, boxAround(after)!, says);
}

/** The same words at the same place, looking different. */
export function sayLooksDifferent(
  about: AboutPages,
  before: readonly Word[],
  after: readonly Word[],
  how: string,
): TextFinding {
  const says = `The type looks different (${how}): “${shorten(quoteWords(before.length > 0 ? before : after))}”.`;
  const texts = { before: quoteWords(before), after: quoteWords(after) };
  const box = boxAround(before) ?? boxAround(after)!;
  return textFinding(about, texts, box, boxAround(after) ?? box, says);
}

function textFinding(
  about: AboutPages,
  measured: { before: string; after: string },
  box: Box,
  revisionBox: Box,
  says: string,
): TextFinding {
  return { ...about, kind: 'text-changed', weight: 'stop', box, revisionBox, measured, says };
}

/** How far words moved on average; both lists name the same words in the same order. */
export function meanShift(before: readonly Word[], after: readonly Word[]): { readonly x: number; readonly y: number } {
  const count = Math.min(before.length, after.length);
  let [x, y] = [0, 0];
  for (let i = 0; i < count; i++) {
    x += after[i]!.origin.x - before[i]!.origin.x;
    y += after[i]!.origin.y - before[i]!.origin.y;
  }
  return { x: x / Math.max(1, count), y: y / Math.max(1, count) };
}

const LONGEST_QUOTE = 90;

function shorten(text: string): string {
  const half = LONGEST_QUOTE / 2 - 2;
  return text.length <= LONGEST_QUOTE ? text : `${text.slice(0, half).trimEnd()} … ${text.slice(-half).trimStart()}`;
}
