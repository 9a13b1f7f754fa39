import type { Box, Finding } from '../model/index.ts';
import type { MarkedSheet } from './order-by-marks.ts';
import type { SeenSide } from './seen-sides.ts';

/** Where a mark reaches over pages of the folded book: nothing is changed there. */
export interface MarkOnPage {
  readonly page: number;
  /** From the top left corner of the page. */
  readonly box: Box;
}

/** What drawing leaves beside a mark. */
const RIM_MM = 0.6;

/** The parts of pages that collating marks reach over. */
export function marksOnPages(marks: readonly MarkedSheet[], seen: readonly SeenSide[]): readonly MarkOnPage[] {
  return marks.flatMap((mark) => {
    const sides = seen.filter(({ sheet }) => sheet === mark.sheet);
    const pages = sides.flatMap(({ cells }) => cells.map(({ cell }) => cell.page ?? Infinity));
    const first = Math.min(...pages);
    const side = sides.find(({ cells }) => cells.some(({ cell }) => cell.page === first));
    return (side?.cells ?? []).flatMap(({ cell, box }): MarkOnPage[] => {
      const isTurned = cell.turnDeg === 180;
      if (cell.page === null || (cell.turnDeg !== 0 && !isTurned)) return [];
      const { width, height } = mark.box;
      const x = isTurned ? box.x + box.width - mark.box.x - width : mark.box.x - box.x;
      const y = isTurned ? box.y + box.height - mark.box.y - height : mark.box.y - box.y;
      if (x > box.width || y > box.height || x + width < 0 || y + height < 0) return [];
      const on = { x: x - RIM_MM, y: y - RIM_MM, width: width + 2 * RIM_MM, height: height + 2 * RIM_MM };
      return [{ page: cell.page, box: on }];
    });
  });
}

/** Whether something was only found on a page because a collating mark reaches over it. */
export function isOfMark(
  { revisionPage, revisionBox }: Pick<Finding, 'revisionPage' | 'revisionBox'>,
  marks: readonly MarkOnPage[],
): boolean {
  if (revisionBox === null) return false;
  const { x, y, width, height } = revisionBox;
  return marks.some(
    ({ page, box }) =>
      page === revisionPage &&
      x >= box.x &&
      y >= box.y &&
      x + width <= box.x + box.width &&
      y + height <= box.y + box.height,
  );
}
