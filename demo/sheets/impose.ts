import { readFile, writeFile } from 'node:fs/promises';
import type { PDFEmbeddedPage, PDFPage } from '@cantoo/pdf-lib';
import {
  clip,
  concatTransformationMatrix,
  drawObject,
  endPath,
  PDFDocument,
  popGraphicsState,
  pushGraphicsState,
  rectangle,
} from '@cantoo/pdf-lib';
import type { Box, Mm } from '../../src/model/index.ts';
import { boxWithoutCreep } from '../../src/plates/index.ts';
import type { Plan } from '../../src/plates/index.ts';
import type { MadeCell, MadeSide, SheetFault } from './faults.ts';
import { madeSides } from './faults.ts';
import type { SheetMarks } from './marks.ts';
import { ALL_MARKS, drawMarks } from './marks.ts';

/** What sheets are made up from, and how. */
export interface SheetOrder {
  readonly bookPath: string;
  readonly plan: Plan;
  readonly outPath: string;
  readonly faults?: readonly SheetFault[];
  readonly marks?: Partial<SheetMarks>;
  /** How much of each page's bleed is kept where its neighbour leaves room for it. */
  readonly bleedMm?: Mm;
  /** Pages that come out of another file, by page number: an older revision. */
  readonly otherPages?: { readonly path: string; readonly pages: readonly number[] };
}

const PT = 72 / 25.4;

/** Makes up the imposed sheets of a book: one page a side, pages as form XObjects, marks around them. */
export async function imposeSheets(order: SheetOrder): Promise<void> {
  const { plan, bleedMm = 3 } = order;
  const sheets = await PDFDocument.create({ updateMetadata: false });
  const book = await embedPages(sheets, order.bookPath, plan, bleedMm);
  const other = order.otherPages === undefined ? null : await embedPages(sheets, order.otherPages.path, plan, bleedMm);
  const sides = madeSides(plan, order.faults ?? []);
  for (const side of sides) {
    const page = sheets.addPage([side.width * PT, side.height * PT]);
    page.pushOperators(
      pushGraphicsState(),
      concatTransformationMatrix(1, 0, 0, 1, side.shiftXmm * PT, -1 * side.shiftYmm * PT),
    );
    for (const cell of side.cells) {
      if (cell.shows === null) continue;
      const isOther = order.otherPages?.pages.includes(cell.shows) === true;
      const form = (isOther ? other : book)?.[cell.shows - 1];
      if (form === undefined) throw new Error(`there is no page ${cell.shows}`);
      placePage(page, form, cell, side, roomAround(cell, side, plan.reads, bleedMm));
    }
    drawMarks(page, side, plan, { ...ALL_MARKS, ...order.marks });
    page.pushOperators(popGraphicsState());
  }
  await writeFile(order.outPath, await sheets.save({ useObjectStreams: false }));
}

/** A page as a form whose corner (0, 0) is its trim's lower left corner, in points. */
interface Form {
  readonly embedded: PDFEmbeddedPage;
  readonly widthPt: number;
  readonly heightPt: number;
  readonly bleedPt: number;
}

async function embedPages(sheets: PDFDocument, path: string, plan: Plan, bleedMm: Mm): Promise<readonly Form[]> {
  const book = await PDFDocument.load(await readFile(path), { updateMetadata: false });
  if (book.getPageCount() !== plan.pages)
    throw new Error(`${path}: ${book.getPageCount()} pages, plan for ${plan.pages}`);
  const bleedPt = bleedMm * PT;
  const forms: Form[] = [];
  for (const page of book.getPages()) {
    const { x, y, width, height } = page.getTrimBox();
    const box = { left: x - bleedPt, bottom: y - bleedPt, right: x + width + bleedPt, top: y + height + bleedPt };
    // a blank page may have no content at all, which cannot be embedded
    if (page.node.Contents() === undefined) page.pushOperators(pushGraphicsState(), popGraphicsState());
    const embedded = await sheets.embedPage(page, box, [1, 0, 0, 1, -x, -y]);
    forms.push({ embedded, widthPt: width, heightPt: height, bleedPt });
  }
  return forms;
}

function placePage(page: PDFPage, form: Form, cell: MadeCell, side: MadeSide, room: Record<Edge, Mm>): void {
  const box = { ...cell.box, x: cell.box.x + cell.shiftXmm, y: cell.box.y + cell.shiftYmm };
  const left = (box.x - room.left) * PT;
  const bottom = (side.height - box.y - box.height - room.bottom) * PT;
  const name = page.node.newXObject('P', form.embedded.ref);
  page.pushOperators(
    pushGraphicsState(),
    rectangle(left, bottom, (box.width + room.left + room.right) * PT, (box.height + room.top + room.bottom) * PT),
    clip(),
    endPath(),
    concatTransformationMatrix(...placing(form, box, cell.shownDeg, side.height)),
    drawObject(name),
    popGraphicsState(),
  );
}

/** From the form's space to the sheet's, the page turned clockwise about the middle of its cell. */
function placing(
  form: Form,
  box: Box,
  turnDeg: number,
  sheetHeight: Mm,
): [number, number, number, number, number, number] {
  const turn = (-turnDeg * Math.PI) / 180;
  const [cos, sin] = [Math.round(Math.cos(turn)), Math.round(Math.sin(turn))];
  const middleX = (box.x + box.width / 2) * PT;
  const middleY = (sheetHeight - box.y - box.height / 2) * PT;
  const [ownX, ownY] = [form.widthPt / 2, form.heightPt / 2];
  return [cos, sin, -sin, cos, middleX - cos * ownX + sin * ownY, middleY - sin * ownX - cos * ownY];
}

/** Half of what lies between a page's cut and its neighbour's, at most the bleed; at a spine the fold, creep or not. */
function roomAround(cell: MadeCell, { cells }: MadeSide, reads: Plan['reads'], bleedMm: Mm): Record<Edge, Mm> {
  const own = boxWithoutCreep(cell, reads);
  const right = own.x + own.width;
  const bottom = own.y + own.height;
  const room = { left: bleedMm, right: bleedMm, top: bleedMm, bottom: bleedMm };
  for (const neighbour of cells) {
    if (neighbour === cell) continue;
    const other = boxWithoutCreep(neighbour, reads);
    const beside = Math.min(bottom, other.y + other.height) - Math.max(own.y, other.y) > own.height / 2;
    const above = Math.min(right, other.x + other.width) - Math.max(own.x, other.x) > own.width / 2;
    if (beside && other.x > own.x) room.right = Math.min(room.right, (other.x - right) / 2);
    if (beside && other.x < own.x) room.left = Math.min(room.left, (own.x - other.x - other.width) / 2);
    if (above && other.y > own.y) room.bottom = Math.min(room.bottom, (other.y - bottom) / 2);
    if (above && other.y < own.y) room.top = Math.min(room.top, (own.y - other.y - other.height) / 2);
  }
  const crept = { x: cell.box.x - own.x, y: cell.box.y - own.y };
  return {
    left: room.left + crept.x,
    right: room.right - crept.x,
    top: room.top + crept.y,
    bottom: room.bottom - crept.y,
  };
}

type Edge = 'left' | 'right' | 'top' | 'bottom';
