import { PDFDict, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import type { Matrix } from '../../model/index.ts';
import type { Book } from './book.ts';
import { concatenate, transformPoint } from './geometry/matrix.ts';
import {
  arrayEntry,
  dictEntry,
  elementsOf,
  entryOf,
  matrixEntry,
  nameEntry,
  numberEntry,
  numbersOf,
} from './objects.ts';

const HIDDEN = 2;
const PRINT = 4;
/** Flags that change how an appearance is placed: NoZoom, NoRotate. */
const PLACING = 8 | 16;

/** An annotation whose appearance is printed with the page. */
export interface PrintedAnnotation {
  readonly dict: PDFDict;
  /** A form. */
  readonly appearance: PDFRawStream;
  /** Corners normalised: x0, y0, x1, y1. */
  readonly rect: readonly [number, number, number, number];
  readonly placingFlags: number;
}

/**
 * The annotations of a page that print: flag Print set, Hidden not, no pop-up, and with an appearance. Those without one
 * are left out, since each program draws them in its own way.
 *
 * @source ISO 32000-2 12.5.3 table 167, 12.5.5
 */
export function printedAnnotations(book: Book, pageNumber: number): readonly PrintedAnnotation[] {
  const { dict: page } = book.page(pageNumber);
  const annotations = arrayEntry(page, 'Annots');
  if (annotations === undefined) return [];
  return elementsOf(book.context, annotations).flatMap((dict) => {
    if (!(dict instanceof PDFDict)) return [];
    const flags = numberEntry(dict, 'F') ?? 0;
    if ((flags & PRINT) === 0 || (flags & HIDDEN) !== 0 || nameEntry(dict, 'Subtype') === 'Popup') return [];
    const appearance = normalAppearance(dict);
    const rect = numbersOf(book.context, dict.get(PDFName.of('Rect')), 4);
    if (appearance === null || rect === undefined) return [];
    const [a, b, c, d] = rect as [number, number, number, number];
    const corners = [Math.min(a, c), Math.min(b, d), Math.max(a, c), Math.max(b, d)] as const;
    return [{ dict, appearance, rect: corners, placingFlags: flags & PLACING }];
  });
}

function normalAppearance(annotation: PDFDict): PDFRawStream | null {
  const appearances = dictEntry(annotation, 'AP');
  const normal = entryOf(appearances, 'N');
  if (normal instanceof PDFRawStream) return normal;
  const state = nameEntry(annotation, 'AS');
  const chosen = normal instanceof PDFDict && state !== undefined ? entryOf(normal, state) : undefined;
  return chosen instanceof PDFRawStream ? chosen : null;
}

/**
 * Where an appearance's form is placed, before the form's own matrix, or null where it has no size.
 *
 * @source ISO 32000-2 12.5.5 algorithm "appearance streams"
 */
export function appearanceMatrix(book: Book, { appearance, rect }: PrintedAnnotation): Matrix | null {
  const { dict } = appearance;
  const box = numbersOf(book.context, entryOf(dict, 'BBox'), 4);
  if (box === undefined) return null;
  const matrix = matrixEntry(dict);
  const [a, b, c, d] = box as [number, number, number, number];
  const corners = [
    transformPoint(matrix, a, b),
    transformPoint(matrix, c, b),
    transformPoint(matrix, c, d),
    transformPoint(matrix, a, d),
  ];
  const left = Math.min(...corners.map(({ x }) => x));
  const right = Math.max(...corners.map(({ x }) => x));
  const bottom = Math.min(...corners.map(({ y }) => y));
  const top = Math.max(...corners.map(({ y }) => y));
  if (!(right > left && top > bottom)) return null;
  const scaleX = (rect[2] - rect[0]) / (right - left);
  const scaleY = (rect[3] - rect[1]) / (top - bottom);
  return concatenate([1, 0, 0, 1, -left, -bottom], [scaleX, 0, 0, scaleY, rect[0], rect[1]]);
}
