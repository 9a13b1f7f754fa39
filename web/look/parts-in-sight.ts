import { PART_MM } from '../book/queries.ts';
import type { Place, Size } from './pan-zoom.ts';

/** A part of a page, from 0 from its top left corner, and where it lies, in shares of the page. */
export interface PartInSight {
  readonly column: number;
  readonly row: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** So many at most; a window that shows more is not near enough for them. */
const MOST = 12;

/**
 * The parts of a page that a window shows; none where they would be too many.
 *
 * @param page  of the picture, in mm
 * @param place  of the page under the window; its scale by the picture's own mm
 */
export function partsInSight(page: Size, place: Place, window: Size): readonly PartInSight[] {
  const range = (at: number, room: number, length: number): readonly number[] => {
    const last = Math.ceil(length / PART_MM) - 1;
    const from = Math.max(0, Math.floor(-at / place.scale / PART_MM));
    const to = Math.min(last, Math.floor((room - at) / place.scale / PART_MM));
    return Array.from({ length: Math.max(0, to - from + 1) }, (_, index) => from + index);
  };
  const columns = range(place.x, window.width, page.width);
  const rows = range(place.y, window.height, page.height);
  if (columns.length * rows.length > MOST) return [];
  return rows.flatMap((row) =>
    columns.map((column) => {
      const [left, top] = [column * PART_MM, row * PART_MM];
      return {
        ...{ column, row, x: left / page.width, y: top / page.height },
        width: Math.min(PART_MM, page.width - left) / page.width,
        height: Math.min(PART_MM, page.height - top) / page.height,
      };
    }),
  );
}
