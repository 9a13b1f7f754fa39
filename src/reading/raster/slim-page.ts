import { PDFDict, PDFName, type PDFObject, type PDFRef } from '@cantoo/pdf-lib';
import { pxFromMm, type Limits, type Ppi } from '../../model/index.ts';
import type { Book } from '../pdf/book.ts';
import { pageGeometry } from '../pdf/boxes.ts';
import type { Placement } from '../pdf/placement.ts';
import { drawAnnotations } from './annotation-content.ts';
import { continuePictures } from './continued-pictures.ts';
import type { HandedPictures } from './handed-pictures.ts';
import { joinedEdges } from './joined-edges.ts';
import { neededPictures } from './needed-pictures.ts';
import { reachableObjects } from './reachable.ts';
import type { PictureShelf } from './picture-shelf.ts';
import { SlimObjects } from './slim-objects.ts';
import { smallerPictures, type PictureNeed } from './smaller-pictures.ts';
import { writeFile } from './write-file.ts';

/** What a slim page is made from. */
export interface SlimPageInput {
  readonly book: Book;
  readonly pageNumber: number;
  /** All pictures of the page. */
  readonly placements: readonly Placement[];
  readonly ppi: Ppi;
  readonly limits: Limits;
  /** Whether pictures that are enlarged are shown in blocks, and not smoothed. */
  readonly showsPixels?: boolean;
  /** Where pictures are put for the next page that shows them. */
  readonly shelf?: PictureShelf | null;
  /** Takes pictures that then do not stand in the file; absent: all do. */
  readonly handed?: HandedPictures;
}

/**
 * A small file of one page for drawing at `ppi`: the page as trimmed, its big pictures shrunk in their own colour
 * space to what the resolution can show, pictures that meet made to overlap, its printed annotations made part of the
 * content, its layers as they were; pictures that it shares with other pages but does not draw are left behind. The
 * book itself is only read.
 *
 * @throws {Refusal} too-large: a picture declares more pixels than the limits allow
 */
export async function slimPage(input: SlimPageInput): Promise<Uint8Array<ArrayBuffer>> {
  const { book, pageNumber, placements, ppi, limits, showsPixels = false, shelf = null, handed = null } = input;
  const objects = new SlimObjects(book.context);
  const { substitutes, scratch } = objects;
  const needs = placements.flatMap((placement) => needOf(placement, shelf?.ppi ?? ppi));
  const work = { book, needs, pageNumber, limits, showsPixels, shelf, handed };
  for (const [ref, picture] of await smallerPictures(work, scratch)) {
    substitutes.set(ref, picture);
  }
  continuePictures(book, joinedEdges(placements, ppi), objects);

  const page = pageDict(book, pageNumber, objects);
  const pageRef = objects.add(page);
  const pagesRef = objects.add(scratch.obj({ Type: 'Pages', Kids: [pageRef], Count: 1 }));
  page.set(PDFName.of('Parent'), pagesRef);
  const catalog = scratch.obj({ Type: 'Catalog', Pages: pagesRef });
  const layers = book.catalog.get(PDFName.of('OCProperties'));
  if (layers !== undefined) catalog.set(PDFName.of('OCProperties'), layers);
  const root = objects.add(catalog);

  const drawn = reachableObjects(book.context, [page, catalog], substitutes, neededPictures(placements));
  const nodes = [pageRef, pagesRef, root];
  const nodeObjects = nodes.flatMap((ref): [PDFRef, PDFObject][] => {
    const object = substitutes.get(ref);
    return object === undefined ? [] : [[ref, object]];
  });
  return writeFile([...drawn.filter(([ref]) => !nodes.includes(ref)), ...nodeObjects], root);
}

function pageDict(book: Book, pageNumber: number, objects: SlimObjects): PDFDict {
  const { dict, inherited } = book.page(pageNumber);
  const { own, turnDeg, userUnit } = pageGeometry(book, pageNumber);
  const { x0, y0, x1, y1 } = own.trim;
  const trim = [x0, y0, x1, y1];
  const page = objects.scratch.obj({
    Type: 'Page',
    MediaBox: trim,
    CropBox: trim,
    Rotate: turnDeg,
    UserUnit: userUnit,
  });
  const resources = inherited.Resources instanceof PDFDict ? inherited.Resources : objects.scratch.obj({});
  page.set(PDFName.of('Resources'), resources);
  for (const key of ['Group', 'Contents'].map((name) => PDFName.of(name))) {
    const value = dict.get(key);
    if (value !== undefined) page.set(key, value);
  }
  drawAnnotations(page, book, pageNumber, resources, objects);
  return page;
}

function needOf({ ref, matrix: [a, b, c, d] }: Placement, ppi: Ppi): readonly PictureNeed[] {
  if (ref === null) return [];
  return [{ ref, width: pxFromMm(Math.hypot(a, b), ppi), height: pxFromMm(Math.hypot(c, d), ppi) }];
}
