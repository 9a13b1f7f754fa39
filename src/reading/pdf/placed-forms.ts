import type { Box } from '../../model/index.ts';
import type { Book } from './book.ts';
import { visibleBox } from './geometry/clip.ts';
import type { Polygon } from './geometry/polygon.ts';
import { onPage } from './on-page.ts';
import { layerStates } from './optional-content.ts';
import { PlacementWalk } from './placement-walk.ts';
import { walkPage } from './walk-page.ts';

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
    const boxes: Box[] = [];
    const walk = new PlacementWalk(book, layerStates(book), (outline, clipped) => {
      const box = isUpright(outline) ? visibleBox(clipped, outline) : null;
      if (box === null || !fits(box)) return true;
      boxes.push(box);
      return false;
    });
    walkPage(walk, book, pageNumber);
    return boxes;
  });
}

function isUpright(outline: Polygon): boolean {
  return outline.every((corner, index) => {
    const next = outline[(index + 1) % outline.length]!;
    return Math.min(Math.abs(next.x - corner.x), Math.abs(next.y - corner.y)) < LEVEL_MM;
  });
}
