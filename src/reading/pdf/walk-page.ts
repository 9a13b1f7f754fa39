import type { Book } from './book.ts';
import { pageGeometry } from './boxes.ts';
import { pageContent } from './content/page-content.ts';
import type { Clip } from './geometry/clip.ts';
import { placedRectangle } from './geometry/polygon.ts';
import type { GraphicsState } from './graphics-state.ts';
import type { PlacementWalk } from './placement-walk.ts';

/**
 * Has a walk run through a page's content, clipped to its media.
 *
 * @returns the state it began with, in which annotations are drawn too
 * @throws {Refusal} too-large, unreadable: as `PlacementWalk`
 */
export function walkPage(walk: PlacementWalk, book: Book, pageNumber: number): GraphicsState {
  const { own, toPage } = pageGeometry(book, pageNumber);
  const { x0, y0, x1, y1 } = own.media;
  const clip: Clip = { convex: placedRectangle(toPage, x0, y0, x1, y1), dented: [] };
  const state: GraphicsState = { ctm: toPage, clip, isSoftMasked: false, fillPattern: null };
  walk.run(pageContent(book, pageNumber), state, {
    resources: walk.resourcesOfPage(pageNumber),
    base: toPage,
    depth: 0,
    isInPatternOrMask: false,
    repeatsOver: null,
  });
  return state;
}
