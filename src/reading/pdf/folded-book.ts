import { writeFile } from 'node:fs/promises';
import { PDFDict, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import type { PDFObject, PDFRef } from '@cantoo/pdf-lib';
import type { Box, Mm } from '../../model/index.ts';
import { SlimObjects } from '../raster/slim-objects.ts';
import { reachableObjects } from '../raster/reachable.ts';
import { writeFile as fileOf } from '../raster/write-file.ts';
import type { Book } from './book.ts';
import { pageGeometry, type PdfRectangle } from './boxes.ts';
import { contentWithin } from './content-within.ts';
import { invert } from './geometry/matrix.ts';
import { boundingBox, placedRectangle } from './geometry/polygon.ts';

/** One page to be cut out of a sheet. */
export interface SheetCut {
  /** The page of the file that the sheet's side is, from 1. */
  readonly filePage: number;
  /** Where the trimmed page lies, in mm of that page. */
  readonly box: Box;
  /** How the page is turned there, clockwise. */
  readonly turnDeg: 0 | 90 | 180 | 270;
  /** What is taken along of the bleed around it. */
  readonly bleedMm: Mm;
  /** How many times as large it becomes; as it is where absent. */
  readonly enlarged?: number;
}

/**
 * Writes a book whose pages are cut out of sheets, each upright, in the order given: the sheets folded and trimmed. The
 * pages' data stay as they are; only boxes and rotation are new, and what is drawn elsewhere on the sheet is left out.
 *
 * @throws {Refusal} unreadable, too-large: a sheet whose boxes or content cannot be read; not-found: no such page
 */
export async function writeFoldedBook(book: Book, cuts: readonly SheetCut[], path: string): Promise<void> {
  const objects = new SlimObjects(book.context);
  const { scratch } = objects;
  const pages = cuts.map((cut) => objects.add(cutPage(book, cut, objects)));
  const pagesRef = objects.add(scratch.obj({ Type: 'Pages', Kids: scratch.obj([...pages]), Count: pages.length }));
  for (const ref of pages) (objects.substitutes.get(ref) as PDFDict).set(PDFName.of('Parent'), pagesRef);
  const catalog = scratch.obj({ Type: 'Catalog', Pages: pagesRef });
  // layers, and the print condition that inks are shown for
  for (const key of ['OCProperties', 'OutputIntents'].map((name) => PDFName.of(name))) {
    const value = book.catalog.get(key);
    if (value !== undefined) catalog.set(key, value);
  }
  const root = objects.add(catalog);
  const nodes = [...pages, pagesRef, root];
  const roots = nodes.map((ref) => objects.substitutes.get(ref)!);
  const drawn = reachableObjects(book.context, roots, objects.substitutes, () => true);
  const nodeObjects = nodes.map((ref): [PDFRef, PDFObject] => [ref, objects.substitutes.get(ref)!]);
  const others = drawn.filter(([ref]) => !nodes.includes(ref));
  const all = [...others, ...nodeObjects].sort(([one], [other]) => one.objectNumber - other.objectNumber);
  await writeFile(path, fileOf(all, root));
}

function cutPage(
  book: Book,
  { filePage, box, turnDeg, bleedMm, enlarged = 1 }: SheetCut,
  objects: SlimObjects,
): PDFDict {
  const { inherited, dict } = book.page(filePage);
  const { toPage, turnDeg: sheetDeg, userUnit } = pageGeometry(book, filePage);
  const toOwn = invert(toPage)!;
  const own = (around: Mm): PdfRectangle => {
    const { x, y, width, height } = box;
    const corners = placedRectangle(toOwn, x - around, y - around, x + width + around, y + height + around);
    const placed = boundingBox(corners)!;
    return { x0: placed.x, y0: placed.y, x1: placed.x + placed.width, y1: placed.y + placed.height };
  };
  const trim = own(0);
  const media = own(bleedMm);
  const page = objects.scratch.obj({
    Type: 'Page',
    MediaBox: listed(media),
    TrimBox: listed(trim),
    BleedBox: listed(media),
    Rotate: (((sheetDeg - turnDeg) % 360) + 360) % 360,
    UserUnit: userUnit * enlarged,
  });
  const content = PDFRawStream.of(objects.scratch.obj({}), Uint8Array.from(contentWithin(book, filePage, media)));
  page.set(PDFName.Contents, objects.add(content));
  page.set(PDFName.Resources, inherited.Resources instanceof PDFDict ? inherited.Resources : objects.scratch.obj({}));
  const group = dict.get(PDFName.of('Group'));
  if (group !== undefined) page.set(PDFName.of('Group'), group);
  return page;
}

function listed({ x0, y0, x1, y1 }: PdfRectangle): number[] {
  return [x0, y0, x1, y1];
}
