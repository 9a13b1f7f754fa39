import type { PDFDict } from '@cantoo/pdf-lib';
import type { Box, Matrix } from '../../model/index.ts';
import { concatenate, invert } from './geometry/matrix.ts';
import { boundingBox, placedRectangle } from './geometry/polygon.ts';
import type { Polygon } from './geometry/polygon.ts';
import { entryOf, matrixEntry, numberEntry, numbersOf } from './objects.ts';

/** One cell of a tiling pattern under the area that it fills. */
export interface PatternCell {
  /** From the cell's space to page mm. */
  readonly matrix: Matrix;
  /** The cell's BBox on the page. */
  readonly outline: Polygon;
  /** Whether the area takes more than this one cell. */
  readonly repeats: boolean;
}

/**
 * The cell of a tiling pattern that lies under the middle of a filled area; the one at the pattern's origin if that shows.
 *
 * @param base  the space of the content that the pattern belongs to, to page mm
 * @param area  what is filled, page mm
 * @returns null where the pattern has no size
 * @source ISO 32000-2 8.7.3.1
 */
export function cellUnder(pattern: PDFDict, base: Matrix, area: Box): PatternCell | null {
  const matrix = concatenate(matrixEntry(pattern), base);
  const back = invert(matrix);
  const box = numbersOf(pattern.context, entryOf(pattern, 'BBox'), 4);
  if (back === null || box === undefined) return null;
  const [a, b, c, d] = box as [number, number, number, number];
  const [x0, y0, x1, y1] = [Math.min(a, c), Math.min(b, d), Math.max(a, c), Math.max(b, d)];
  const stepX = Math.abs(numberEntry(pattern, 'XStep') ?? 0) || x1 - x0;
  const stepY = Math.abs(numberEntry(pattern, 'YStep') ?? 0) || y1 - y0;
  const filled = boundingBox(placedRectangle(back, area.x, area.y, area.x + area.width, area.y + area.height));
  if (filled === null || !(stepX > 0 && stepY > 0)) return null;
  const [left, right] = [filled.x, filled.x + filled.width];
  const [low, high] = [filled.y, filled.y + filled.height];
  const showsOrigin = left < x1 && right > x0 && low < y1 && high > y0;
  const shiftX = showsOrigin ? 0 : Math.floor(((left + right) / 2 - x0) / stepX) * stepX;
  const shiftY = showsOrigin ? 0 : Math.floor(((low + high) / 2 - y0) / stepY) * stepY;
  // A cell often overhangs by rounding; a hundredth of a step is no repetition.
  const repeats =
    right > x0 + shiftX + stepX * 1.01 ||
    left < x1 + shiftX - stepX * 1.01 ||
    high > y0 + shiftY + stepY * 1.01 ||
    low < y1 + shiftY - stepY * 1.01;
  const placed = concatenate([1, 0, 0, 1, shiftX, shiftY], matrix);
  return { matrix: placed, outline: placedRectangle(placed, x0, y0, x1, y1), repeats };
}
