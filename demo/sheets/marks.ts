import type { PDFPage } from '@cantoo/pdf-lib';
import { cmyk, StandardFonts } from '@cantoo/pdf-lib';
import type { Mm } from '../../src/model/index.ts';
import { boxWithoutCreep } from '../../src/plates/index.ts';
import type { Plan } from '../../src/plates/index.ts';
import type { MadeSide } from './faults.ts';

/** What is printed around the pages. */
export interface SheetMarks {
  readonly crop: boolean;
  readonly register: boolean;
  readonly colourBar: boolean;
  /** Stepped bars on the backs of sections: where paper is ground off, or over the fold itself, too. */
  readonly collating: boolean | 'over-the-fold';
}

export const ALL_MARKS: SheetMarks = { crop: true, register: true, colourBar: true, collating: true };
export const NO_MARKS: SheetMarks = { crop: false, register: false, colourBar: false, collating: false };

const PT = 72 / 25.4;
/** On every plate. */
const EVERY_INK = cmyk(1, 1, 1, 1);
const HAIRLINE_PT = 0.25;
const CROP = { offMm: 4, lengthMm: 5 };
const CROSS_MM = 3;
const PATCH_MM = 4;
const INKS = [cmyk(1, 0, 0, 0), cmyk(0, 1, 0, 0), cmyk(0, 0, 1, 0), cmyk(0, 0, 0, 1), cmyk(0.5, 0.4, 0.4, 0)];
/** A bar across the back of a section, each section's lower than the one before. */
const COLLATING = { widthMm: 1.5, heightMm: 8, stepMm: 10, steps: 12, fromHeadMm: 20 };

/** Draws the marks of one side. */
export function drawMarks(page: PDFPage, side: MadeSide, plan: Plan, marks: SheetMarks): void {
  const line = (x0: Mm, y0: Mm, x1: Mm, y1: Mm): void =>
    page.drawLine({
      start: { x: x0 * PT, y: (side.height - y0) * PT },
      end: { x: x1 * PT, y: (side.height - y1) * PT },
      thickness: HAIRLINE_PT,
      color: EVERY_INK,
    });
  const fill = (x: Mm, y: Mm, width: Mm, height: Mm, color: ReturnType<typeof cmyk>): void =>
    page.drawRectangle({
      x: x * PT,
      y: (side.height - y - height) * PT,
      width: width * PT,
      height: height * PT,
      color,
    });
  // marks say where paper is cut, whatever creep did to the pages
  const boxes = side.cells.map((cell) => ({ box: boxWithoutCreep(cell, plan.reads) }));
  const left = Math.min(...boxes.map(({ box }) => box.x));
  const right = Math.max(...boxes.map(({ box }) => box.x + box.width));
  const top = Math.min(...boxes.map(({ box }) => box.y));
  const bottom = Math.max(...boxes.map(({ box }) => box.y + box.height));
  if (marks.crop) {
    const { offMm, lengthMm } = CROP;
    for (const x of places(boxes.flatMap(({ box }) => [box.x, box.x + box.width]))) {
      line(x, top - offMm - lengthMm, x, top - offMm);
      line(x, bottom + offMm, x, bottom + offMm + lengthMm);
    }
    for (const y of places(boxes.flatMap(({ box }) => [box.y, box.y + box.height]))) {
      line(left - offMm - lengthMm, y, left - offMm, y);
      line(right + offMm, y, right + offMm + lengthMm, y);
    }
  }
  if (marks.register) {
    const cross = (x: Mm, y: Mm): void => {
      line(x - CROSS_MM, y, x + CROSS_MM, y);
      line(x, y - CROSS_MM, x, y + CROSS_MM);
    };
    cross(left / 2, side.height / 2);
    cross((right + side.width) / 2, side.height / 2);
  }
  if (marks.colourBar) {
    const y = Math.min(side.height - PATCH_MM - 1, bottom + CROP.offMm + CROP.lengthMm + 0.5);
    for (let x = left + 20, patch = 0; x + PATCH_MM < right - 20; x += PATCH_MM, patch++) {
      fill(x, y, PATCH_MM, PATCH_MM, INKS[patch % INKS.length]!);
    }
    const font = page.doc.embedStandardFont(StandardFonts.Helvetica);
    const name = `sheet ${side.sheet} ${side.side}`;
    page.drawText(name, { x: (left + 2) * PT, y: (side.height - y - 3) * PT, size: 6, font, color: EVERY_INK });
  }
  if (marks.collating !== false && side.side !== 'back') drawCollatingMark(side, plan, fill, marks.collating);
}

/** On the fold between a section's first and last page, where what it prints on is ground off or hidden in the back. */
function drawCollatingMark(
  side: MadeSide,
  plan: Plan,
  fill: (...at: [Mm, Mm, Mm, Mm, typeof EVERY_INK]) => void,
  where: SheetMarks['collating'],
): void {
  const pages = side.cells.filter(({ page }) => page !== null);
  const first = pages.reduce((one, other) => (other.page! < one.page! ? other : one));
  const spineAtLeft = (plan.reads === 'left-to-right') === (first.turnDeg === 0);
  const spine = spineAtLeft ? first.box.x : first.box.x + first.box.width;
  const gap = Math.min(
    ...pages
      .filter(({ row, column }) => row === first.row && column === first.column + (spineAtLeft ? -1 : 1))
      .map(({ box }) => (spineAtLeft ? spine - box.x - box.width : box.x - spine)),
  );
  const width = where === 'over-the-fold' && gap < Infinity ? COLLATING.widthMm : Math.min(COLLATING.widthMm, gap);
  if (plan.binding === 'saddle-stitched' || !(width > 0.2)) return;
  const step = COLLATING.fromHeadMm + ((side.markOf - 1) % COLLATING.steps) * COLLATING.stepMm;
  const y = first.turnDeg === 0 ? first.box.y + step : first.box.y + first.box.height - step - COLLATING.heightMm;
  fill(
    spineAtLeft ? spine - (gap + width) / 2 : spine + (gap - width) / 2,
    y,
    width,
    COLLATING.heightMm,
    cmyk(0, 0, 0, 1),
  );
}

/** Each place once. */
function places(given: readonly Mm[]): ReadonlySet<Mm> {
  return new Set(given.map((at) => Math.round(at * 1000) / 1000));
}
