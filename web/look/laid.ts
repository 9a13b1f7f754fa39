import type { Box } from '../../src/model/index.ts';
import type { BookPage, KnownFinding } from '../book/queries.ts';
import type { Place, Size } from './pan-zoom.ts';

/** Which of the two files. */
export type Side = 'dummy' | 'revision';

/** A page of the file, the page of the dummy that it is held against, and where both lie. */
export interface LaidPage {
  readonly revision: BookPage;
  /** Null: it is held against none. */
  readonly dummy: BookPage | null;
  readonly size: Size;
  /** In mm from the left of all that is laid out. */
  readonly x: number;
}

/** What lies on the bench at once: a page, or both of a spread. In mm. */
export interface Laid {
  readonly size: Size;
  readonly pages: readonly LaidPage[];
}

/** Lays pages of a file beside each other, each with its page of the dummy; those that cannot be read are left out. */
export function laidOf(pages: readonly BookPage[], dummyOf: (page: BookPage) => BookPage | null): Laid {
  const laid: LaidPage[] = [];
  let [x, height] = [0, 0];
  for (const revision of pages) {
    const size = revision.trimmed;
    if (size === null) continue;
    laid.push({ revision, dummy: dummyOf(revision), size, x });
    x += size.width;
    height = Math.max(height, size.height);
  }
  return { size: { width: Math.max(1, x), height: Math.max(1, height) }, pages: laid };
}

/** Where a finding is on one side, in mm of what is laid out; null: nowhere on these pages. */
export function boxOf({ pages }: Laid, { finding }: KnownFinding, side: Side): Box | null {
  const number = side === 'dummy' ? finding.dummyPage : finding.revisionPage;
  const box = side === 'dummy' ? finding.box : finding.revisionBox;
  const page = pages.find((one) => one[side]?.pageNumber === number);
  return box == null || page === undefined ? null : { ...box, x: box.x + page.x };
}

/** The page under a point of what is laid out, and where on that page it is, in mm. */
export function pageAt({ pages }: Laid, x: number, y: number): { page: LaidPage; x: number; y: number } | null {
  const page = pages.find(({ x: left, size }) => x >= left && x < left + size.width);
  return page === undefined || y < 0 || y >= page.size.height ? null : { page, x: x - page.x, y };
}

/** How one of the pages lies under the window. */
export function placeOf({ x }: LaidPage, place: Place): Place {
  return { ...place, x: place.x + x * place.scale };
}
