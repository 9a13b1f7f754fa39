import { PDFNumber } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import { MM_PER_INCH, PT_PER_INCH, Refusal } from '../../model/index.ts';
import type { Box, Matrix, PageDescription } from '../../model/index.ts';
import type { Book } from './book.ts';
import { transformPoint } from './geometry/matrix.ts';
import { entryOf, numberEntry, numbersOf } from './objects.ts';

/** A rectangle in the page's own space: points before UserUnit, y up; x0 < x1, y0 < y1. */
export interface PdfRectangle {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Where a page begins and ends, resolved, and how its own space lies on the trimmed page. */
export interface PageGeometry extends Pick<PageDescription, 'boxes' | 'trimmed' | 'turnDeg'> {
  /** The boxes in the page's own space, inherited, with defaults, and clipped to the MediaBox. */
  readonly own: Readonly<Record<keyof PageDescription['boxes'], PdfRectangle>>;
  readonly userUnit: number;
  /** From the page's own space (y up) to page mm (TrimBox's top left corner after rotation, y down). */
  readonly toPage: Matrix;
}

/**
 * A page's boxes.
 *
 * @throws {Refusal} unreadable: no MediaBox with an area; too-large: a side of the trimmed page over `limits.pageMm`
 * @source ISO 32000-2 7.7.3.3 table 31, 14.11.2 (test/standards/iso32000)
 */
export function pageGeometry(book: Book, pageNumber: number): PageGeometry {
  const { dict, inherited } = book.page(pageNumber);
  const { context } = book;
  const media = rectangle(context, inherited.MediaBox);
  if (media === null) {
    throw new Refusal('unreadable', { file: book.name, reason: 'it has no MediaBox with an area', page: pageNumber });
  }
  const crop = within(rectangle(context, inherited.CropBox), media) ?? media;
  const trim = within(rectangle(context, entryOf(dict, 'TrimBox')), media) ?? crop;
  const bleed = within(rectangle(context, entryOf(dict, 'BleedBox')), media) ?? crop;
  const turnDeg = rotation(inherited.Rotate);
  const userUnit = positive(numberEntry(dict, 'UserUnit')) ?? 1;
  const toPage = pageMatrix(trim, turnDeg, userUnit);
  const trimBox = placed(trim, toPage);
  const { pageMm } = book.limits;
  const longest = Math.max(trimBox.width, trimBox.height);
  if (longest > pageMm) {
    throw new Refusal('too-large', {
      what: 'a side of the trimmed page',
      limit: pageMm,
      found: Math.round(longest),
      unit: 'mm',
      page: pageNumber,
    });
  }
  return {
    own: { media, crop, bleed, trim },
    boxes: { media: placed(media, toPage), crop: placed(crop, toPage), bleed: placed(bleed, toPage), trim: trimBox },
    trimmed: { width: trimBox.width, height: trimBox.height },
    turnDeg,
    userUnit,
    toPage,
  };
}

function rectangle(context: PDFContext, object: PDFObject | undefined): PdfRectangle | null {
  const numbers = numbersOf(context, object, 4);
  if (!numbers?.every(Number.isFinite)) return null;
  const [a, b, c, d] = numbers as [number, number, number, number];
  const own = { x0: Math.min(a, c), y0: Math.min(b, d), x1: Math.max(a, c), y1: Math.max(b, d) };
  return own.x1 > own.x0 && own.y1 > own.y0 ? own : null;
}

function within(box: PdfRectangle | null, media: PdfRectangle): PdfRectangle | null {
  if (box === null) return null;
  const x0 = Math.max(box.x0, media.x0);
  const y0 = Math.max(box.y0, media.y0);
  const x1 = Math.min(box.x1, media.x1);
  const y1 = Math.min(box.y1, media.y1);
  return x1 > x0 && y1 > y0 ? { x0, y0, x1, y1 } : null;
}

function rotation(object: PDFObject | undefined): PageGeometry['turnDeg'] {
  const given = object instanceof PDFNumber ? object.asNumber() : 0;
  const quarters = Math.round(given / 90) % 4;
  return ([0, 90, 180, 270] as const)[(quarters + 4) % 4] ?? 0;
}

function positive(value: number | undefined): number | null {
  return value !== undefined && value > 0 && Number.isFinite(value) ? value : null;
}

/** /Rotate turns clockwise, so at 90 the page's lower left corner becomes the upper left. */
function pageMatrix({ x0, y0, x1, y1 }: PdfRectangle, turnDeg: PageGeometry['turnDeg'], userUnit: number): Matrix {
  const k = (userUnit * MM_PER_INCH) / PT_PER_INCH;
  switch (turnDeg) {
    case 0:
      return [k, 0, 0, -k, -x0 * k, y1 * k];
    case 90:
      return [0, k, k, 0, -y0 * k, -x0 * k];
    case 180:
      return [-k, 0, 0, k, x1 * k, -y0 * k];
    case 270:
      return [0, -k, -k, 0, y1 * k, x1 * k];
  }
}

function placed(own: PdfRectangle, toPage: Matrix): Box {
  const one = transformPoint(toPage, own.x0, own.y0);
  const other = transformPoint(toPage, own.x1, own.y1);
  return {
    x: unsigned(Math.min(one.x, other.x)),
    y: unsigned(Math.min(one.y, other.y)),
    width: Math.abs(one.x - other.x),
    height: Math.abs(one.y - other.y),
  };
}

/** No minus zero in a report. */
function unsigned(value: number): number {
  return value === 0 ? 0 : value;
}
