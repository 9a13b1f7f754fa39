import type { Binding } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import { formatFolds, parseFolds, type Fold } from './fold.ts';

/** The folds that a section of so many pages gets where nobody names others; the first are the halves of a usual folder. */
const USUAL_FOLDS: Readonly<Record<number, string>> = {
  4: 'L>R',
  8: 'T>B, L>R',
  12: 'B>T 1/3, T>B, L>R',
  16: 'R>L, T>B, L>R',
  24: 'R>L, B>T 1/3, T>B, L>R',
  32: 'T>B, R>L, T>B, L>R',
};

/** Sections that have usual folds, in pages. */
export const SECTION_PAGES: readonly number[] = Object.keys(USUAL_FOLDS).map(Number);

/**
 * The usual folds of a section.
 *
 * @throws {Refusal} malformed: no section of so many pages has any
 * @source common practice, no source
 */
export function usualFolds(pages: number): readonly Fold[] {
  const folds = USUAL_FOLDS[pages];
  if (folds !== undefined) return parseFolds(folds);
  throw new Refusal('malformed', {
    pointer: 'sections',
    expected: `sections of ${SECTION_PAGES.join(', ')} pages`,
    found: `${pages}`,
  });
}

/**
 * Every way to fold a section of so many pages that leaves no leaf loose: halves in any order and direction, with at most
 * one fold in thirds where the count asks for it, the spine last and on the left. Written as `parseFolds` reads them.
 */
export function foldingsOf(pages: number): readonly string[] {
  const share = pages % 3 === 0 ? 3 : 2;
  const halves = Math.log2(share === 3 ? pages / 3 : pages / 2);
  if (!Number.isInteger(halves) || halves < 1) return [];
  const wanted = share === 3 ? halves + 1 : halves;
  let found: Fold[][] = [[{ direction: 'L>R', share: 2 }]];
  for (let folds = 1; folds < wanted; folds++) {
    found = found.flatMap((later) => beforeThese(later, share).map((fold) => [fold, ...later]));
  }
  return found.filter((folds) => share === 2 || folds.some((fold) => fold.share === 3)).map(formatFolds);
}

/** A third goes along the sheet's height, where each row keeps its spine, and has a half along the same way behind it. */
function beforeThese(later: readonly Fold[], share: 2 | 3): readonly Fold[] {
  const halves = (['L>R', 'R>L', 'T>B', 'B>T'] as const).map((direction): Fold => ({ direction, share: 2 }));
  const hasThird = later.some((fold) => fold.share === 3);
  const hasCross = later.some(({ direction }) => direction === 'T>B' || direction === 'B>T');
  const thirds = (['T>B', 'B>T'] as const).map((direction): Fold => ({ direction, share: 3 }));
  return share === 3 && !hasThird && hasCross ? [...halves, ...thirds] : halves;
}

/**
 * Shares a book out into sections: as many of the wanted size as go in, then halves of it. What is smaller than the
 * others stands last but one, where sewing holds it; in a nested book innermost.
 *
 * @param pages  of the book; what is missing to a multiple of four is left blank at the end
 * @returns pages of each section, in sequence or from the outermost
 * @source common practice, no source
 */
export function shareOut(pages: number, sectionPages: number, binding: Binding): readonly number[] {
  const total = Math.ceil(pages / 4) * 4;
  const sections: number[] = [];
  let left = total;
  for (const size of [sectionPages, ...SECTION_PAGES.toReversed().filter((smaller) => smaller < sectionPages)]) {
    while (left >= size) {
      sections.push(size);
      left -= size;
    }
  }
  if (binding === 'saddle-stitched') return sections;
  const whole = sections.filter((size) => size === sectionPages);
  const smaller = sections.filter((size) => size !== sectionPages);
  return [...whole.slice(0, -1), ...smaller, ...whole.slice(-1)];
}

/**
 * The pages of each sheet in the order in which its leaves carry them; numbers over the book's last are blanks.
 *
 * @param sheets  pages of each, in sequence or from the outermost
 * @param nested  of sections in sequence: how many sheets lie one inside the other in each
 */
export function pagesOfSections(
  sheets: readonly number[],
  binding: Binding,
  nested = 1,
): readonly (readonly number[])[] {
  const inOne = binding === 'saddle-stitched' ? sheets.length : nested;
  let before = 0;
  const numbers: (readonly number[])[] = [];
  for (let from = 0; from < sheets.length; from += inOne) {
    const section = sheets.slice(from, from + inOne);
    numbers.push(...pagesOfNested(section, before));
    before += sumOf(section);
  }
  return numbers;
}

/** Of sheets one inside the other, the outermost first. */
function pagesOfNested(sheets: readonly number[], before: number): readonly (readonly number[])[] {
  const total = sumOf(sheets);
  let outside = 0;
  return sheets.map((size) => {
    const half = size / 2;
    const pages = [...run(before + outside + 1, half), ...run(before + total - outside - half + 1, half)];
    outside += half;
    return pages;
  });
}

function sumOf(sizes: readonly number[]): number {
  return sizes.reduce((sum, size) => sum + size, 0);
}

function run(first: number, length: number): number[] {
  return Array.from({ length }, (_, index) => first + index);
}
