import {
  PDFArray,
  PDFContext,
  PDFDict,
  PDFName,
  PDFRawStream,
  PDFRef,
  PDFStream,
  type PDFObject,
} from '@cantoo/pdf-lib';
import type { Limits } from '../../model/index.ts';
import type { Book } from '../pdf/book.ts';
import { appearanceMatrix, printedAnnotations } from '../pdf/annotations.ts';
import { pageGeometry } from '../pdf/boxes.ts';
import { dictEntry, entryOf } from '../pdf/objects.ts';
import { smallerPictures, type PictureNeed } from './smaller-pictures.ts';
import { reachableObjects } from './reachable.ts';
import { writeFile } from './write-file.ts';

/** What a slim page is made from. */
export interface SlimPageInput {
  readonly book: Book;
  readonly pageNumber: number;
  /** How large the page shows each of its pictures, in pixels of the raster. */
  readonly needs: readonly PictureNeed[];
  readonly limits: Limits;
}

const text = new TextEncoder();

/**
 * A small file of one page for drawing at `ppi`: the page as trimmed, its big pictures shrunk in their own colour
 * space to what the resolution can show, its printed annotations made part of the content, its layers as they were.
 * The book itself is only read.
 *
 * @throws {Refusal} too-large: a picture declares more pixels than the limits allow
 */
export async function slimPage(input: SlimPageInput): Promise<Uint8Array<ArrayBuffer>> {
  const { context, catalog: bookCatalog } = input.book;
  const { dict: page, inherited } = input.book.page(input.pageNumber);
  const { own, turnDeg, userUnit } = pageGeometry(input.book, input.pageNumber);
  const scratch = PDFContext.create();
  let lastNumber = context.largestObjectNumber;
  const substitutes = new Map<PDFRef, PDFObject>(await smallerPictures(input, scratch));
  const add = (object: PDFObject): PDFRef => {
    lastNumber += 1;
    const ref = PDFRef.of(lastNumber);
    substitutes.set(ref, object);
    return ref;
  };

  const { x0, y0, x1, y1 } = own.trim;
  const trim = [x0, y0, x1, y1];
  const slim = scratch.obj({ Type: 'Page', MediaBox: trim, CropBox: trim, Rotate: turnDeg, UserUnit: userUnit });
  const resources = inherited.Resources instanceof PDFDict ? inherited.Resources : scratch.obj({});
  slim.set(PDFName.of('Resources'), resources);
  for (const key of ['Group', 'Contents'].map((name) => PDFName.of(name))) {
    const value = page.get(key);
    if (value !== undefined) slim.set(key, value);
  }
  drawAnnotations(slim, input, resources, scratch, add);
  const pageRef = add(slim);
  const pagesRef = add(scratch.obj({ Type: 'Pages', Kids: [pageRef], Count: 1 }));
  slim.set(PDFName.of('Parent'), pagesRef);
  const catalog = scratch.obj({ Type: 'Catalog', Pages: pagesRef });
  const layers = bookCatalog.get(PDFName.of('OCProperties'));
  if (layers !== undefined) catalog.set(PDFName.of('OCProperties'), layers);
  const root = add(catalog);

  const nodes: [PDFRef, PDFObject][] = [pageRef, pagesRef, root].map((ref) => [ref, substitutes.get(ref) ?? catalog]);
  const drawn = reachableObjects(context, [slim, catalog], substitutes);
  const others = drawn.filter(([ref]) => ref !== pageRef && ref !== pagesRef && ref !== root);
  return writeFile([...others, ...nodes], root);
}

/** Annotations become part of the content: without the rest of the file's form they would not be drawn alike. */
function drawAnnotations(
  slim: PDFDict,
  { book, pageNumber }: SlimPageInput,
  resources: PDFDict,
  scratch: PDFContext,
  add: (object: PDFObject) => PDFRef,
): void {
  const annotations = printedAnnotations(book, pageNumber);
  if (annotations.length === 0) return;
  const ownResources = resources.clone();
  const ownXObjects = dictEntry(resources, 'XObject')?.clone() ?? scratch.obj({});
  let content = '\nQ\n';
  annotations.forEach((annotation, at) => {
    const matrix = appearanceMatrix(book, annotation);
    if (matrix === null) return;
    const { appearance } = annotation;
    const dict = appearance.dict.clone();
    dict.set(PDFName.of('Subtype'), PDFName.of('Form'));
    // An annotation's layer is put on its form, so that it stays hidden with it.
    const layer = annotation.dict.get(PDFName.of('OC'));
    if (layer !== undefined && !dict.has(PDFName.of('OC'))) dict.set(PDFName.of('OC'), layer);
    const name = unusedName(ownXObjects, `Annotation${at}`);
    ownXObjects.set(PDFName.of(name), add(PDFRawStream.of(dict, appearance.contents)));
    content += `q ${matrix.map((value) => value.toFixed(6)).join(' ')} cm /${name} Do Q\n`;
  });
  ownResources.set(PDFName.of('XObject'), ownXObjects);
  slim.set(PDFName.of('Resources'), ownResources);
  const before = add(streamOf('q\n', scratch));
  const after = add(streamOf(content, scratch));
  slim.set(PDFName.of('Contents'), scratch.obj([before, ...contentsOf(book.page(pageNumber).dict), after]));
}

function unusedName(dict: PDFDict, wanted: string): string {
  return dict.has(PDFName.of(wanted)) ? unusedName(dict, `${wanted}x`) : wanted;
}

function contentsOf(page: PDFDict): readonly PDFObject[] {
  const contents = entryOf(page, 'Contents');
  if (contents instanceof PDFArray) return contents.asArray();
  const direct = page.get(PDFName.of('Contents'));
  return contents instanceof PDFStream && direct !== undefined ? [direct] : [];
}

function streamOf(content: string, scratch: PDFContext): PDFRawStream {
  return PDFRawStream.of(scratch.obj({}), text.encode(content));
}
