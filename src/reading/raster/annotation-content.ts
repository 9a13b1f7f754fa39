import { PDFArray, type PDFDict, PDFName, PDFRawStream, PDFStream, type PDFObject } from '@cantoo/pdf-lib';
import { appearanceMatrix, printedAnnotations } from '../pdf/annotations.ts';
import type { Book } from '../pdf/book.ts';
import { dictEntry, entryOf } from '../pdf/objects.ts';
import type { SlimObjects } from './slim-objects.ts';

/**
 * Makes the printed annotations of a page part of its content: without the rest of the file's form they would not be
 * drawn alike.
 *
 * @param slim  the slim page, whose /Resources and /Contents are replaced where the page has such annotations
 */
export function drawAnnotations(
  slim: PDFDict,
  book: Book,
  pageNumber: number,
  resources: PDFDict,
  objects: SlimObjects,
): void {
  const annotations = printedAnnotations(book, pageNumber);
  if (annotations.length === 0) return;
  const { scratch } = objects;
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
    ownXObjects.set(PDFName.of(name), objects.add(PDFRawStream.of(dict, appearance.contents)));
    content += `q ${matrix.map((value) => value.toFixed(6)).join(' ')} cm /${name} Do Q\n`;
  });
  ownResources.set(PDFName.of('XObject'), ownXObjects);
  slim.set(PDFName.of('Resources'), ownResources);
  const [before, after] = [objects.add(objects.stream('q\n')), objects.add(objects.stream(content))];
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
