import { PDFContext, PDFRawStream, PDFRef, type PDFObject } from '@cantoo/pdf-lib';

/** What an entry of a new dictionary may be. */
type Entry = string | number | number[] | PDFObject;

const encoder = new TextEncoder();

/** The objects of a slim page that are not the book's own: new ones, and ones that take the place of the book's. */
export class SlimObjects {
  readonly substitutes = new Map<PDFRef, PDFObject>();
  /** New dictionaries and arrays belong to this, never to the book. */
  readonly scratch = PDFContext.create();
  #lastNumber: number;

  constructor(book: PDFContext) {
    this.#lastNumber = book.largestObjectNumber;
  }

  /** Adds an object under a number that the book does not use. */
  add(object: PDFObject): PDFRef {
    this.#lastNumber += 1;
    const ref = PDFRef.of(this.#lastNumber);
    this.substitutes.set(ref, object);
    return ref;
  }

  /** A content stream or a form's. */
  stream(content: string, entries: Readonly<Record<string, Entry>> = {}): PDFRawStream {
    return PDFRawStream.of(this.scratch.obj({ ...entries }), encoder.encode(content));
  }
}
