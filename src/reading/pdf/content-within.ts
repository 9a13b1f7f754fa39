import { PDFDict, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import { intersectBoxes } from '../../model/index.ts';
import type { Box, Matrix } from '../../model/index.ts';
import type { Book } from './book.ts';
import type { PdfRectangle } from './boxes.ts';
import { Operations } from './content/operations.ts';
import { pageContent } from './content/page-content.ts';
import type { Operand } from './content/operand.ts';
import { concatenate, IDENTITY } from './geometry/matrix.ts';
import { boundingBox, placedRectangle } from './geometry/polygon.ts';
import { dictEntry, entryOf, matrixEntry, numbersOf } from './objects.ts';

/** Operators that a group may hold beside its forms and still be left out as a whole. */
const HARMLESS = new Set(['cm', 're', 'W', 'W*', 'n', 'gs', 'BDC', 'BMC', 'EMC']);

interface Group {
  readonly from: number;
  ctm: Matrix;
  /** What its rectangles leave of the sheet, in the page's own space. */
  clip: Box;
  rectangle: Box | null;
  /** Whether it is only known to draw elsewhere. */
  drawsElsewhere: boolean;
  draws: boolean;
}

/**
 * A page's content without the groups that do nothing but draw forms elsewhere than in `keep`: of a sheet the one page
 * that stands in a cell, with whatever else is drawn on the sheet by itself. What is left draws the same within `keep`.
 *
 * @param keep  in the page's own space
 * @throws {Refusal} as `pageContent`
 */
export function contentWithin(book: Book, pageNumber: number, keep: PdfRectangle): Uint8Array {
  const source = pageContent(book, pageNumber);
  const { inherited } = book.page(pageNumber);
  const resources = inherited.Resources instanceof PDFDict ? inherited.Resources : undefined;
  const forms = dictEntry(resources, 'XObject');
  const operations = new Operations(source);
  const open: Group[] = [];
  const left: { readonly from: number; readonly to: number }[] = [];
  let outer: Matrix = IDENTITY;
  for (;;) {
    const from = operations.at;
    const operation = operations.next();
    if (operation === null) break;
    const group = open.at(-1);
    const { operator, operands } = operation;
    if (operator === 'q') {
      open.push({
        from,
        ctm: group?.ctm ?? outer,
        clip: group?.clip ?? EVERYWHERE,
        rectangle: null,
        drawsElsewhere: true,
        draws: false,
      });
    } else if (operator === 'Q') {
      const closed = open.pop();
      if (closed === undefined) continue;
      if (closed.drawsElsewhere && closed.draws) left.push({ from: closed.from, to: operations.at });
      const around = open.at(-1);
      // what is left out is no reason to keep the group around it, nor to leave that out with all its settings
      if (around !== undefined) around.drawsElsewhere = false;
    } else if (operator === 'cm') {
      const matrix = concatenate(matrixOf(operands), group?.ctm ?? outer);
      if (group === undefined) outer = matrix;
      else group.ctm = matrix;
    } else if (group !== undefined && operator === 're') {
      group.rectangle = group.rectangle === null ? placedBox(operands, group.ctm) : EVERYWHERE;
    } else if (group !== undefined && (operator === 'W' || operator === 'W*')) {
      group.clip = intersectBoxes(group.clip, group.rectangle ?? EVERYWHERE) ?? NOWHERE;
    } else if (group !== undefined && operator === 'n') {
      group.rectangle = null;
    } else if (group !== undefined && operator === 'Do') {
      group.draws = true;
      const [name] = operands;
      const key = typeof name === 'object' && name !== null && 'name' in name ? name.name : '';
      const form = forms === undefined ? undefined : entryOf(forms, key);
      if (!(form instanceof PDFRawStream) || !liesElsewhere(book, form, group, keep)) group.drawsElsewhere = false;
    } else if (group !== undefined && !HARMLESS.has(operator)) {
      group.drawsElsewhere = false;
    }
  }
  return withoutRanges(source, left);
}

function matrixOf(operands: readonly Operand[]): Matrix {
  const numbers = operands.slice(-6).map((operand) => (typeof operand === 'number' ? operand : NaN));
  // a matrix that cannot be read lies nowhere, so nothing under it is left out
  return numbers.length === 6 ? (numbers as unknown as Matrix) : [NaN, NaN, NaN, NaN, NaN, NaN];
}

/** An upright box, or everywhere where it cannot be told. */
function placedBox(operands: readonly Operand[], ctm: Matrix): Box {
  const [x, y, width, height] = operands.map((operand) => (typeof operand === 'number' ? operand : NaN));
  if (width === undefined || height === undefined || x === undefined || y === undefined) return EVERYWHERE;
  const placed = boundingBox(placedRectangle(ctm, x, y, x + width, y + height));
  return placed === null || !isFinite(placed) ? EVERYWHERE : placed;
}

function isFinite({ x, y, width, height }: Box): boolean {
  return [x, y, width, height].every(Number.isFinite);
}

const FAR = 1e9;
const EVERYWHERE: Box = { x: -FAR, y: -FAR, width: 2 * FAR, height: 2 * FAR };
const NOWHERE: Box = { x: 2 * FAR, y: 2 * FAR, width: 1, height: 1 };

function liesElsewhere(book: Book, form: PDFRawStream, { ctm, clip }: Group, keep: PdfRectangle): boolean {
  if (form.dict.get(PDFName.of('Subtype')) !== PDFName.of('Form')) return false;
  const box = numbersOf(book.context, entryOf(form.dict, 'BBox'), 4);
  if (box === undefined) return false;
  const [x0, y0, x1, y1] = box as [number, number, number, number];
  const placed = boundingBox(placedRectangle(concatenate(matrixEntry(form.dict), ctm), x0, y0, x1, y1));
  if (placed === null || !isFinite(placed)) return false;
  const shown = intersectBoxes(placed, clip);
  if (shown === null) return true;
  // a neighbour that only reaches over the fold, by its creep, is no part of this page
  const rim = Math.min(shown.width, shown.height) >= A_PAGE_PT ? RIM_PT : 0;
  return (
    shown.x + shown.width <= keep.x0 + rim ||
    shown.x >= keep.x1 - rim ||
    shown.y + shown.height <= keep.y0 + rim ||
    shown.y >= keep.y1 - rim
  );
}

/** Common practice, no source: creep of 32 pages stays under a millimetre, and no page is under three centimetres. */
const RIM_PT = 3;
const A_PAGE_PT = 85;

function withoutRanges(
  source: Uint8Array,
  ranges: readonly { readonly from: number; readonly to: number }[],
): Uint8Array {
  const parts: Uint8Array[] = [];
  let at = 0;
  for (const { from, to } of [...ranges].sort((one, other) => one.from - other.from)) {
    parts.push(source.subarray(at, from), Uint8Array.of(0x0a));
    at = to;
  }
  parts.push(source.subarray(at));
  return Buffer.concat(parts);
}
