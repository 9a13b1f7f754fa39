import type { Box, Mm } from '../model/index.ts';
import { intersectBoxes } from '../model/index.ts';
import type { MarkedGrid } from './crop-marks.ts';
import { medianOf } from './place-by-words.ts';

/** By how much a page's box may differ from the trimmed size, and its place from its crop marks. */
const SIZE_MM = 0.35;
/** Creep brings pages that meet at a spine over each other by up to this. */
const OVERLAP_MM = 2;
/** Of the cells of a side, those that have a box. */
const LEAST_SHARE = 0.5;

interface Size {
  readonly width: Mm;
  readonly height: Mm;
}

/** Whether a box on a sheet is as large as a page, upright or on its side. */
export function isPageSized(box: Box, trimmed: Size): boolean {
  return isOfSize(box, trimmed) || isOfSize(box, { width: trimmed.height, height: trimmed.width });
}

function isOfSize(box: Box, { width, height }: Size): boolean {
  return Math.abs(box.width - width) <= SIZE_MM && Math.abs(box.height - height) <= SIZE_MM;
}

/**
 * The columns and rows of a side by the boxes that its pages were placed with.
 *
 * @param boxes  of the size of a page
 * @returns null where there are too few of them, they overlap, so that not all of them are pages, or some lie on their side
 */
export function gridByBoxes(boxes: readonly Box[], trimmed: Size): MarkedGrid | null {
  const own = boxes.filter((box, index) => !boxes.slice(0, index).some((other) => isSamePlace(box, other)));
  const overlap = own.some((box, index) =>
    own.slice(index + 1).some((other) => {
      const shared = intersectBoxes(box, other);
      return shared !== null && Math.min(shared.width, shared.height) > OVERLAP_MM;
    }),
  );
  const [first] = own;
  if (first === undefined || overlap) return null;
  const onSide = !isOfSize(first, trimmed);
  if (own.some((box) => !isOfSize(box, first))) return null;
  const columnsMm = lines(
    own.map(({ x }) => x),
    first.width,
  );
  const rowsMm = lines(
    own.map(({ y }) => y),
    first.height,
  );
  return own.length >= LEAST_SHARE * columnsMm.length * rowsMm.length ? { columnsMm, rowsMm, onSide } : null;
}

/** Whether boxes lie where crop marks say that paper is cut; where marks tell fewer pages, some of them are hidden. */
export function agreesWithMarks(boxes: MarkedGrid, marks: MarkedGrid): boolean {
  const agree = (own: readonly Mm[], marked: readonly Mm[]): boolean =>
    own.length > marked.length ||
    (own.length === marked.length && own.every((at, index) => Math.abs(at - marked[index]!) <= SIZE_MM));
  return boxes.onSide === marks.onSide && agree(boxes.columnsMm, marks.columnsMm) && agree(boxes.rowsMm, marks.rowsMm);
}

function isSamePlace(one: Box, other: Box): boolean {
  return Math.abs(one.x - other.x) <= SIZE_MM && Math.abs(one.y - other.y) <= SIZE_MM;
}

/** Where pages of one column begin lies nearer together than half a page. */
function lines(places: readonly Mm[], length: Mm): readonly Mm[] {
  const found: Mm[][] = [];
  for (const place of [...places].sort((one, other) => one - other)) {
    const line = found.at(-1);
    if (line !== undefined && place - line[0]! < length / 2) line.push(place);
    else found.push([place]);
  }
  return found.map(medianOf);
}
