import type { Matrix, Mm, Pt } from '../../model/index.ts';
import type { PageGeometry, PdfRectangle } from '../../reading/index.ts';

const PT_PER_MM = 72 / 25.4;
/** Between the trim and the slug where the file gives no bleed. @source common practice, no source */
const CLEAR_MM: Mm = 3;
/** Paper between what the page shows, bleed and marks included, and the slug. @source common practice, no source */
const GAP_MM: Mm = 1.5;
/** From the top of the slug to its foot. */
const SLUG_MM: Mm = 22;
/** Type keeps this distance from the sides of the sheet. */
const SIDE_MM: Mm = 4;
/** Three columns and a code want this width; a narrower page gets a wider sheet. */
const LEAST_WIDTH_MM: Mm = 104;

/** Where a page's slug goes, and the sheet that has room for it. */
export interface SlugPlace {
  /** The slug as it is drawn by itself: points, its type between `fromPt` and `toPt`. */
  readonly widthPt: Pt;
  readonly heightPt: Pt;
  readonly fromPt: Pt;
  readonly toPt: Pt;
  /** From that drawing (points, y up) into the page's own space. */
  readonly matrix: Matrix;
  /** What was seen of the page until now; all that follows is in the page's own space. */
  readonly seen: PdfRectangle;
  readonly sheet: PdfRectangle;
  readonly media: PdfRectangle;
  readonly trim: PdfRectangle;
  readonly bleed: PdfRectangle;
}

/**
 * The place of the slug: below everything that the page shows, as it is looked at, and outside trim and bleed. The sheet
 * always grows, since nobody can know without drawing the page whether marks or colour bars stand in the room there is.
 *
 * @source ISO 32000-2 14.11.2 for the boxes; the distances are common practice, no source
 */
export function placeSlug({ boxes, own, toPage }: PageGeometry): SlugPlace {
  const { crop, trim, bleed } = boxes;
  const shown = Math.max(crop.y + crop.height, bleed.y + bleed.height);
  const top = Math.max(shown + GAP_MM, trim.y + trim.height + CLEAR_MM);
  const from = Math.max(trim.x, crop.x + SIDE_MM);
  const side = Math.min(trim.x + trim.width, crop.x + crop.width - SIDE_MM);
  const to = Math.max(side, from + LEAST_WIDTH_MM);
  const right = Math.max(crop.x + crop.width, to + SIDE_MM);
  const toOwn = inverse(toPage);
  const corner = applied(toOwn, crop.x, top + SLUG_MM);
  const opposite = applied(toOwn, right, top);
  const band = {
    x0: Math.min(corner.x, opposite.x),
    y0: Math.min(corner.y, opposite.y),
    x1: Math.max(corner.x, opposite.x),
    y1: Math.max(corner.y, opposite.y),
  };
  const sheet = united(own.crop, band);
  const [a, b, c, d] = toOwn;
  const k = 1 / PT_PER_MM;
  return {
    widthPt: (right - crop.x) * PT_PER_MM,
    heightPt: SLUG_MM * PT_PER_MM,
    fromPt: (from - crop.x) * PT_PER_MM,
    toPt: (to - crop.x) * PT_PER_MM,
    matrix: [a * k, b * k, -c * k, -d * k, corner.x, corner.y],
    seen: own.crop,
    sheet,
    media: united(own.media, sheet),
    trim: own.trim,
    bleed: own.bleed,
  };
}

/** Undoes a page's matrix, which only turns by quarters, scales and shifts: it always has an inverse. */
function inverse([a, b, c, d, e, f]: Matrix): Matrix {
  const det = a * d - b * c;
  return [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det];
}

function applied([a, b, c, d, e, f]: Matrix, x: number, y: number): { x: number; y: number } {
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

function united(one: PdfRectangle, other: PdfRectangle): PdfRectangle {
  return {
    x0: Math.min(one.x0, rounded(other.x0)),
    y0: Math.min(one.y0, rounded(other.y0)),
    x1: Math.max(one.x1, rounded(other.x1)),
    y1: Math.max(one.y1, rounded(other.y1)),
  };
}

/** Way back and forth leaves a trace in the last places, by which a side must not move. */
function rounded(length: number): number {
  return Math.round(length * 1000) / 1000;
}
