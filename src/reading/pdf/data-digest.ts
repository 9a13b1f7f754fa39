import { createHash } from 'node:crypto';
import type { PDFDict } from '@cantoo/pdf-lib';
import type { Book } from './book.ts';
import { decodeData, filterSteps, staysAsCoded } from './decode.ts';
import type { FilterStep } from './decode.ts';
import { hashOnDisk } from './streams-on-disk.ts';

/** A stream's data after the lossless filters, as a hash; the data themselves are not kept. */
export interface DataDigest {
  readonly sha256: Buffer;
  /** Filters that were not undone. */
  readonly left: readonly FilterStep[];
}

interface Coded {
  readonly dict: PDFDict;
  /** Asked for where the digest is not known. */
  readonly coded: () => Uint8Array;
}

const known = new WeakMap<Book, WeakMap<PDFDict, DataDigest>>();

/**
 * The hash of a stream's data after its lossless filters; worked out once for each stream of a book.
 *
 * @throws {Refusal} too-large: the data unfold to more than `limits.streamBytes`
 */
export function dataDigest(book: Book, { dict, coded }: Coded): DataDigest {
  const ofBook = known.get(book) ?? new WeakMap<PDFDict, DataDigest>();
  known.set(book, ofBook);
  const before = ofBook.get(dict);
  if (before !== undefined) return before;
  const digest = digestOf(book, { dict, coded });
  ofBook.set(dict, digest);
  return digest;
}

function digestOf(book: Book, { dict, coded }: Coded): DataDigest {
  const steps = filterSteps(dict);
  const onDisk = staysAsCoded(steps) ? hashOnDisk(dict) : null;
  if (onDisk !== null) return { sha256: onDisk, left: steps };
  const { data, left } = decodeData(coded(), steps, book.limits.streamBytes);
  return { sha256: createHash('sha256').update(data).digest(), left };
}
