import { MM_PER_INCH, PT_PER_INCH } from '../../model/index.ts';
import type { Box, Matrix } from '../../model/index.ts';
import type { Book } from './book.ts';
import { visibleBox } from './geometry/clip.ts';
import type { Polygon } from './geometry/polygon.ts';
import { onPage } from './on-page.ts';
import { layerStates } from './optional-content.ts';
import { PlacementWalk } from './placement-walk.ts';
import { walkPage } from './walk-page.ts';

/** An edge that rises by less is level. */
const LEVEL_MM = 0.05;

/** A form on a page. */
export interface PlacedForm {
  readonly box: Box;
  /** How large what it draws stands there; NaN where it is not the same both ways. */
  readonly scale: number;
}

/** Both ways alike, to a millimetre on the longest page. */
const SAME_SCALE = 0.001;

/**
 * Where a page draws forms of a size that is asked for: a form's box as it is placed, as far as its clip lets it be seen.
 * Forms inside of forms too, unless the outer one is of that size; not those of hidden layers, masks, patterns and
 * annotations, and none that is placed askew.
 *
 * @param fits  whether a form is of the size, its box in page mm
 * @throws {Refusal} too-large, unreadable: as `placementsOnPage`
 * @source ISO 32000-2 8.10.1: a form's Matrix takes its BBox into the space around it, and clips to it
 */
export function placedForms(
  book: Book,
  pageNumber: number,
  fits: (form: PlacedForm) => boolean,
): readonly PlacedForm[] {
  return onPage(book, pageNumber, () => {
    const forms: PlacedForm[] = [];
    const walk = new PlacementWalk(book, layerStates(book), (outline, clipped, ctm) => {
      const box = isUpright(outline) ? visibleBox(clipped, outline) : null;
      const form = box === null ? null : { box, scale: scaleOf(ctm) };
      if (form === null || !fits(form)) return true;
      forms.push(form);
      return false;
    });
    walkPage(walk, book, pageNumber);
    return forms;
  });
}

function scaleOf([a, b, c, d]: Matrix): number {
  const [across, down] = [Math.hypot(a, b), Math.hypot(c, d)];
  return Math.abs(across / down - 1) <= SAME_SCALE ? (across / MM_PER_INCH) * PT_PER_INCH : Number.NaN;
}

function isUpright(outline: Polygon): boolean {
  return outline.every((corner, index) => {
    const next = outline[(index + 1) % outline.length]!;
    return Math.min(Math.abs(next.x - corner.x), Math.abs(next.y - corner.y)) < LEVEL_MM;
  });
}
