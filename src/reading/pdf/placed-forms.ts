import type { Box } from '../../model/index.ts';
import type { Book } from './book.ts';
import { pageGeometry } from './boxes.ts';
import { pageContent } from './content/page-content.ts';
import type { Clip } from './geometry/clip.ts';
import { visibleBox } from './geometry/clip.ts';
import { placedRectangle } from './geometry/polygon.ts';
import type { Polygon } from './geometry/polygon.ts';
import { onPage } from './on-page.ts';
import { layerStates } from './optional-content.ts';
import { PlacementWalk } from './placement-walk.ts';

/** An edge that rises by less is level. */
const LEVEL_MM = 0.05;

/**
 * Where a page draws forms of a size that is asked for: a form's box as it is placed, as far as its clip lets it be seen.
 * Forms inside of forms too, unless the outer one is of that size; not those of hidden layers, masks, patterns and
 * annotations, and none that is placed askew.
 *
 * @param fits  whether a box in page mm is of the size
 * @throws {Refusal} too-large, unreadable: as `placementsOnPage`
 * @source ISO 32000-2 8.10.1: a form's Matrix takes its BBox into the space around it, and clips to it
 */
export function placedForms(book: Book, pageNumber: number, fits: (box: Box) => boolean): readonly Box[] {
  return onPage(book, pageNumber, () => {
    const { own, toPage } = pageGeometry(book, pageNumber);
    const { x0, y0, x1, y1 } = own.media;
    const clip: Clip = { convex: placedRectangle(toPage, x0, y0, x1, y1), dented: [] };
    const boxes: Box[] = [];
    const walk = new PlacementWalk(book, layerStates(book), (outline, clipped) => {
      const box = isUpright(outline) ? visibleBox(clipped, outline) : null;
      if (box === null || !fits(box)) return true;
      boxes.push(box);
      return false;
    });
    const state = { ctm: toPage, clip, isSoftMasked: false, fillPattern: null };
    walk.run(pageContent(book, pageNumber), state, {
      resources: walk.resourcesOfPage(pageNumber),
      base: toPage,
      depth: 0,
      isInPatternOrMask: false,
      repeatsOver: null,
    });
    return boxes;
  });
}

function isUpright(outline: Polygon): boolean {
  return outline.every((corner, index) => {
    const next = outline[(index + 1) % outline.length]!;
    return Math.min(Math.abs(next.x - corner.x), Math.abs(next.y - corner.y)) < LEVEL_MM;
  });
}
