import { PDFArray, PDFDict, PDFName, PDFNumber, PDFObjectCopier, PDFRawStream } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject, PDFRef } from '@cantoo/pdf-lib';
import { DEFAULT_LIMITS } from '../../model/index.ts';
import type { Matrix } from '../../model/index.ts';
import { openBookFrom } from '../../reading/index.ts';
import type { Book } from '../../reading/index.ts';

/** Pages that were drawn in a document of their own, taken over into another one. */
export interface DrawnPages {
  /** A page as a form, to be painted on a page of the other document; `matrix` leads from its points there. */
  asForm(pageNumber: number, matrix: Matrix): PDFRef;
  /** A page as a page of the other document, under this node of its page tree. */
  asPage(pageNumber: number, parent: PDFRef): PDFDict;
}

/** Opens drawn pages (a whole PDF file) for taking them over. What several of them use, as a font, is taken over once. */
export async function openDrawnPages(pdf: Uint8Array, target: PDFContext): Promise<DrawnPages> {
  const contents = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const drawn: Book = await openBookFrom({ path: 'drawn', contents }, DEFAULT_LIMITS);
  const copier = PDFObjectCopier.for(drawn.context, target);
  const partsOf = (pageNumber: number): { stream: PDFRawStream; resources: PDFObject; box: PDFArray } => {
    const { dict, inherited } = drawn.page(pageNumber);
    const stream = dict.lookup(PDFName.of('Contents'));
    const { Resources: resources, MediaBox: box } = inherited;
    if (!(stream instanceof PDFRawStream) || resources === undefined || !(box instanceof PDFArray)) {
      throw new Error(`drawn page ${pageNumber} has not the form in which pages are drawn`);
    }
    return { stream, resources: copier.copy(resources), box: copier.copy(box) };
  };
  return {
    asForm(pageNumber, matrix) {
      const { stream, resources, box } = partsOf(pageNumber);
      const form = copier.copy(stream);
      form.dict.set(PDFName.of('Type'), PDFName.of('XObject'));
      form.dict.set(PDFName.of('Subtype'), PDFName.of('Form'));
      form.dict.set(PDFName.of('BBox'), box);
      form.dict.set(PDFName.of('Matrix'), target.obj(matrix.map((value) => roundedNumber(value))));
      form.dict.set(PDFName.of('Resources'), resources);
      return target.register(form);
    },
    asPage(pageNumber, parent) {
      const { stream, resources, box } = partsOf(pageNumber);
      const page = PDFDict.withContext(target);
      page.set(PDFName.of('Type'), PDFName.of('Page'));
      page.set(PDFName.of('Parent'), parent);
      page.set(PDFName.of('MediaBox'), box);
      page.set(PDFName.of('CropBox'), box);
      page.set(PDFName.of('TrimBox'), box);
      page.set(PDFName.of('Rotate'), PDFNumber.of(0));
      page.set(PDFName.of('Resources'), resources);
      page.set(PDFName.of('Contents'), target.register(copier.copy(stream)));
      return page;
    },
  };
}

/** A millionth of a point is enough, and no number is written with an exponent. */
function roundedNumber(value: number): PDFNumber {
  return PDFNumber.of(Math.round(value * 1e6) / 1e6);
}
