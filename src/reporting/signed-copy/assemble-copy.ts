import { createHash } from 'node:crypto';
import { PDFArray, PDFDict, PDFHexString, PDFName, PDFRef, PDFString } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import type { Instant } from '../../model/index.ts';
import type { Book } from '../../reading/index.ts';
import type { FileEnd } from './file-end.ts';
import { addSealField, placeOfSeal, signatureBody } from './seal-file.ts';
import type { SealPlace } from './seal-file.ts';
import type { StampedPages } from './stamp-pages.ts';
import { bodyOf, writeObjects } from './write-objects.ts';
import type { Written } from './write-objects.ts';

/** What a copy is put together from. */
export interface Assembly {
  readonly book: Book;
  /** The file's bytes. */
  readonly contents: Buffer;
  readonly before: FileEnd;
  readonly at: Instant;
  /** Of whoever will seal the copy, in DER; null for one that is not sealed. */
  readonly certificate: Uint8Array | null;
}

/** A copy in two parts: the file's own bytes where they stand at its head, and what is new. */
export interface AssembledCopy {
  readonly prefix: Uint8Array;
  readonly tail: Buffer;
  /** Where the seal is to go and what it is to sign; null: nowhere. */
  readonly seal: SealPlace | null;
}

/**
 * Changes a book's objects by `stamp` and gives the file: the old bytes with what is new behind them, or all objects
 * anew where nothing can be appended. Only objects that `stamp` made or names as changed are written in an update.
 */
export function assembleCopy(assembly: Assembly, stamp: () => StampedPages): AssembledCopy {
  const { book, contents, before, at, certificate } = assembly;
  const { context } = book;
  const lastOwn = context.largestObjectNumber;
  const { changed, tree, sheets } = stamp();
  const root = context.trailerInfo.Root instanceof PDFRef ? context.trailerInfo.Root : context.nextRef();
  const catalog = book.catalog.clone(context);
  catalog.set(PDFName.of('Pages'), tree);
  const signature =
    certificate === null ? null : { ref: addSeal(context, catalog, sheets), body: signatureBody(certificate, at) };
  context.assign(root, catalog);
  const objects: Written[] = context
    .enumerateIndirectObjects()
    .filter(([ref]) => before === null || ref.objectNumber > lastOwn || changed.has(ref) || ref === root)
    .map(([ref, object]) => [ref, bodyOf(object)]);
  if (signature !== null) objects.push([signature.ref, signature.body]);
  const prefix = before === null ? new Uint8Array() : contents;
  const { bytes, places } = writeObjects(objects, prefix.length, before, {
    root,
    info: context.trailerInfo.Info instanceof PDFRef ? context.trailerInfo.Info : undefined,
    id: identifiers(context.trailerInfo.ID, `${book.sha256} ${at}`),
    size: context.largestObjectNumber + 1,
  });
  const tail = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  if (signature === null) return { prefix, tail, seal: null };
  const place = (places.get(signature.ref) ?? 0) - prefix.length;
  return { prefix, tail, seal: placeOfSeal(prefix, tail, place) };
}

/** Makes the field of the seal, which belongs to the first sheet; gives the number that the signature will have. */
function addSeal(context: PDFContext, catalog: PDFDict, sheets: readonly PDFRef[]): PDFRef {
  const [first] = sheets;
  const sheet = context.lookup(first);
  if (first === undefined || !(sheet instanceof PDFDict)) throw new Error('a sealed copy has a sheet for its seal');
  const signature = context.nextRef();
  sheet.set(PDFName.of('Annots'), context.obj([addSealField(context, catalog, signature, first)]));
  return signature;
}

/** The file's own first identifier stays; the second names this copy. @source ISO 32000-2 14.4 */
function identifiers(given: PDFObject | undefined, edition: string): [string, string] {
  const own = createHash('sha256').update(edition).digest('hex').slice(0, 32);
  const first = given instanceof PDFArray ? given.get(0) : undefined;
  if (first instanceof PDFHexString) return [first.asString(), own];
  return [first instanceof PDFString ? Buffer.from(first.asBytes()).toString('hex') : own, own];
}
