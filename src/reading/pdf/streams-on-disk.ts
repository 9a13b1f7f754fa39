import { PDFName, PDFNumber, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import type { PDFContext, PDFDict } from '@cantoo/pdf-lib';
import type { DiskFile } from './disk-file.ts';
import type { HashedData } from './arriving-file.ts';
import type { SkimmedFile } from './skim-file.ts';
import type { OnDisk } from './skim-object.ts';

const LENGTH = PDFName.of('Length');

/** By the dictionary of a stream whose data are on disk. */
const hashes = new WeakMap<PDFDict, () => Buffer>();

/** SHA-256 of the data of a stream as they lie on disk, which are not brought into memory; null where they are there already. */
export function hashOnDisk(dict: PDFDict): Buffer | null {
  return hashes.get(dict)?.() ?? null;
}

/**
 * Gives the streams whose data were passed over their data back: read from disk when they are asked for, and
 * only the latest kept.
 *
 * @param hashed  data of this file whose hashes are known
 */
export function readStreamsFromDisk(
  context: PDFContext,
  { bytes, cut }: SkimmedFile,
  file: DiskFile,
  hashed: readonly HashedData[] = [],
): void {
  const known = new Map(hashed.map((data) => [data.at, data]));
  // A picture's data are asked for several times in a row; weak references would hold all of them until the end of a job.
  let latest: { readonly of: OnDisk; readonly bytes: Buffer } | null = null;
  for (const [, object] of context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFRawStream) || object.contents.buffer !== bytes.buffer) continue;
    const data = cut.get(object.contents.byteOffset - bytes.byteOffset);
    if (data === undefined) continue;
    object.dict.set(LENGTH, lengthOf(data));
    const read = (): Buffer => {
      if (latest?.of !== data) latest = { of: data, bytes: file.read(data.at, data.bytes) };
      return latest.bytes;
    };
    const before = known.get(data.at);
    hashes.set(
      object.dict,
      before?.bytes === data.bytes ? () => Buffer.from(before.sha256) : () => file.sha256(data.at, data.bytes),
    );
    Object.defineProperty(object, 'contents', { get: read });
    Object.defineProperty(object, 'getContentsSize', { value: () => data.bytes });
  }
}

function lengthOf({ length }: OnDisk): PDFNumber | PDFRef {
  return typeof length === 'number' ? PDFNumber.of(length) : PDFRef.of(length.objectNumber, length.generationNumber);
}
