import { Refusal } from '../../model/index.ts';
import type { PageRange } from '../catalogue/index.ts';

/** More ranges than that nobody tells by hand. */
const MOST_RANGES = 1000;

/**
 * Ranges of replaced pages as a sender tells them, put in order.
 *
 * @throws {Refusal} malformed: none, a range that is none, or two that overlap
 */
export function requireRanges(ranges: readonly PageRange[]): readonly PageRange[] {
  const refuse = (expected: string, found: string): never => {
    throw new Refusal('malformed', { pointer: '/replaces', expected, found });
  };
  if (ranges.length === 0) refuse('at least one range of pages', 'none');
  if (ranges.length > MOST_RANGES) refuse(`at most ${MOST_RANGES} ranges of pages`, `${ranges.length}`);
  const sorted = ranges.map(({ first, last }) => ({ first, last })).sort((one, other) => one.first - other.first);
  let before = 0;
  for (const range of sorted) {
    const { first, last } = range;
    if (!Number.isSafeInteger(first) || !Number.isSafeInteger(last) || first < 1 || last < first)
      refuse('pages from 1, the first one first', wordsOf([range]));
    if (first <= before) refuse('each page at most once', `page ${first} again`);
    before = last;
  }
  return sorted;
}

/** How many pages ranges have together. */
function countOf(ranges: readonly PageRange[]): number {
  return ranges.reduce((sum, { first, last }) => sum + last - first + 1, 0);
}

/** Ranges as people say them: pages 3, 12-13. */
export function wordsOf(ranges: readonly PageRange[]): string {
  const words = ranges.map(({ first, last }) => (first === last ? `${first}` : `${first}-${last}`));
  return `${countOf(ranges) === 1 ? 'page' : 'pages'} ${words.join(', ')}`;
}

/**
 * The whole book when pages of it were supplied again: those of `above` take the places of the ranges, in order.
 *
 * @throws {Refusal} malformed: as many pages as are replaced were not sent, or the book below is shorter
 */
export function layOver<Page>(
  below: readonly Page[],
  above: readonly Page[],
  ranges: readonly PageRange[],
): readonly Page[] {
  requireAsMany(above.length, ranges);
  const last = ranges.at(-1)?.last ?? 0;
  if (last > below.length) {
    throw new Refusal('malformed', {
      pointer: '/replaces',
      expected: `pages of the book below, which has ${below.length}`,
      found: wordsOf(ranges),
    });
  }
  const whole = [...below];
  let next = 0;
  for (const range of ranges) {
    for (let page = range.first; page <= range.last; page += 1) whole[page - 1] = above[next++]!;
  }
  return whole;
}

function requireAsMany(sent: number, ranges: readonly PageRange[]): void {
  const replaced = countOf(ranges);
  if (sent === replaced) return;
  throw new Refusal('malformed', {
    pointer: '/replaces',
    expected: `as many pages in the file as it replaces (${wordsOf(ranges)}: ${replaced})`,
    found: `${sent}`,
  });
}
