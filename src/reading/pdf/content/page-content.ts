import { PDFArray, PDFInvalidObject, PDFName, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import type { PDFObject } from '@cantoo/pdf-lib';
import { Refusal } from '../../../model/index.ts';
import type { Book } from '../book.ts';
import { decodeData, filterSteps } from '../decode.ts';
import { resolve } from '../objects.ts';

const SEPARATOR = Uint8Array.of(0x0a);

/**
 * A page's content, its streams decoded and joined; between two of them stands white space, since a token ends with its
 * stream.
 *
 * @throws {Refusal} unreadable: a content stream is not in the file, damaged, or under a filter for pictures; too-large: it
 * unfolds to more than `limits.streamBytes`
 * @source ISO 32000-2 7.8.2
 */
export function pageContent(book: Book, pageNumber: number): Uint8Array {
  const { dict } = book.page(pageNumber);
  const given = dict.get(PDFName.Contents);
  const contents = resolve(book.context, given);
  const parts = contents instanceof PDFArray ? contents.asArray() : given === undefined ? [] : [given];
  const decoded: Uint8Array[] = [];
  let left = book.limits.streamBytes;
  for (const part of parts) {
    const stream = requireStream(book, pageNumber, part);
    if (stream === null) continue;
    const data = decodeContent(book, stream, left, pageNumber);
    left -= data.length;
    if (decoded.length > 0) decoded.push(SEPARATOR);
    decoded.push(data);
  }
  return decoded.length === 1 ? decoded[0]! : Buffer.concat(decoded);
}

/**
 * The decoded content of a form, a pattern cell or a glyph.
 *
 * @throws {Refusal} as `pageContent`
 */
export function decodeContent(book: Book, stream: PDFRawStream, limit: number, pageNumber?: number): Uint8Array {
  const { data, left } = decodeData(stream.contents, filterSteps(stream.dict), limit);
  const [unknown] = left;
  if (unknown !== undefined) {
    throw new Refusal('unreadable', {
      file: book.name,
      reason: `a content stream is under the filter ${unknown.name}, which holds no content`,
      ...(pageNumber === undefined ? {} : { page: pageNumber }),
    });
  }
  return data;
}

function requireStream(book: Book, pageNumber: number, part: PDFObject): PDFRawStream | null {
  const stream = resolve(book.context, part);
  if (stream instanceof PDFRawStream) return stream;
  if (stream === undefined && !(part instanceof PDFRef && book.context.lookup(part) === undefined)) return null;
  const which = part instanceof PDFRef ? ` (object ${part.objectNumber})` : '';
  const state = stream instanceof PDFInvalidObject ? 'damaged' : stream === undefined ? 'not in the file' : 'no stream';
  throw new Refusal('unreadable', { file: book.name, reason: `its content${which} is ${state}`, page: pageNumber });
}
