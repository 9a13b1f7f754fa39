import { PDFName, PDFNumber, PDFStream, type PDFObject, type PDFRef } from '@cantoo/pdf-lib';
import { joinBytes } from '../../model/index.ts';
import { unfolded, type WrittenStream } from './unfold.ts';

const encoder = new TextEncoder();
const HEADER = encoder.encode('%PDF-1.7\n%\u00ff\u00ff\u00ff\u00ff\n');
const END_OF_OBJECT = encoder.encode('\nendobj\n');
const START_OF_STREAM = encoder.encode('\nstream\n');
const END_OF_STREAM = encoder.encode('\nendstream');

/** A PDF file that is written one object after the other, into memory or onto a disk. */
export interface FileInParts {
  /** What the file begins with. */
  readonly header: Uint8Array;
  /** An object as it goes into the file behind all that was asked for before. */
  object(ref: PDFRef, object: PDFObject): readonly Uint8Array[];
  /** What the file ends with. */
  end(root: PDFRef): Uint8Array;
}

/**
 * Begins a PDF file of indirect objects: nothing is compressed, nothing is changed in place.
 *
 * @param written  how a stream is written
 * @source ISO 32000-2 7.5: file structure
 */
export function fileInParts(written: (stream: PDFStream) => WrittenStream = asItIs): FileInParts {
  let sections = 'xref\n0 1\n0000000000 65535 f \n';
  let offset = HEADER.length;
  let size = 1;
  return {
    header: HEADER,
    object(ref, object) {
      const row = `${String(offset).padStart(10, '0')} ${String(ref.generationNumber).padStart(5, '0')} n \n`;
      sections += `${ref.objectNumber} 1\n${row}`;
      size = Math.max(size, ref.objectNumber + 1);
      const parts = [encoder.encode(`${ref.objectNumber} ${ref.generationNumber} obj\n`)];
      if (object instanceof PDFStream) {
        const { dict, contents } = written(object);
        dict.set(PDFName.of('Length'), PDFNumber.of(contents.length));
        parts.push(serialised(dict), START_OF_STREAM, contents as Uint8Array<ArrayBuffer>, END_OF_STREAM);
      } else {
        parts.push(serialised(object));
      }
      parts.push(END_OF_OBJECT);
      offset += parts.reduce((sum, { length }) => sum + length, 0);
      return parts;
    },
    end(root) {
      const trailer = `trailer\n<< /Size ${size} /Root ${root.toString()} >>\nstartxref\n${offset}\n%%EOF\n`;
      return encoder.encode(sections + trailer);
    },
  };
}

function asItIs(stream: PDFStream): WrittenStream {
  return { dict: stream.dict.clone(), contents: stream.getContents() };
}

/**
 * A PDF file of the given indirect objects, its streams unfolded.
 *
 * @param objects  in ascending object number
 */
export function writeFile(objects: readonly (readonly [PDFRef, PDFObject])[], root: PDFRef): Uint8Array<ArrayBuffer> {
  const file = fileInParts(unfolded);
  const parts: Uint8Array[] = [file.header, ...objects.flatMap(([ref, object]) => file.object(ref, object))];
  return joinBytes([...parts, file.end(root)]);
}

function serialised(object: PDFObject): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(object.sizeInBytes());
  object.copyBytesInto(bytes, 0);
  return bytes;
}
