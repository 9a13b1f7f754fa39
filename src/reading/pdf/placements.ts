import type { Book } from './book.ts';
import { appearanceMatrix, printedAnnotations } from './annotations.ts';
import { concatenate } from './geometry/matrix.ts';
import { onPage } from './on-page.ts';
import { isShown, layerStates } from './optional-content.ts';
import { PlacementWalk } from './placement-walk.ts';
import { walkPage } from './walk-page.ts';
import type { Placement } from './placement.ts';

/**
 * All images that a page draws, in drawing order: those of forms, tiling patterns, soft masks and printed annotations
 * too; not those of hidden layers and not the glyphs of fonts. Each is counted as often as it is drawn; a pattern's once
 * for each area filled.
 *
 * @throws {Refusal} too-large: over the limits of operators, nesting, time, or a stream's bytes; unreadable: the page's
 * content or boxes are damaged or missing
 */
export function placementsOnPage(book: Book, pageNumber: number): readonly Placement[] {
  return onPage(book, pageNumber, () => {
    const layers = layerStates(book);
    const walk = new PlacementWalk(book, layers);
    const state = walkPage(walk, book, pageNumber);
    for (const annotation of printedAnnotations(book, pageNumber)) {
      const matrix = appearanceMatrix(book, annotation);
      if (matrix === null || !isShown(layers, annotation.dict)) continue;
      walk.drawForm(annotation.appearance, { ...state, ctm: concatenate(matrix, state.ctm) });
    }
    return walk.placements;
  });
}
