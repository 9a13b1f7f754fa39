import { PDFName, PDFNumber, PDFStream, type PDFObject, type PDFRef } from '@cantoo/pdf-lib';
import { unfolded } from './unfold.ts';

const encoder = new TextEncoder();
const HEADER = encoder.encode('%PDF-1.7\n%\u00ff\u00ff\u00ff\u00ff\n');
const END_OF_OBJECT = encoder.encode('\nendobj\n');
const START_OF_STREAM = encoder.encode('\nstream\n');
const END_OF_STREAM = encoder.encode('\nendstream');

/**
 * A PDF file of the given indirect objects: nothing is compressed, nothing is changed in place.
 *
 * @param objects  in ascending object number
 * @source ISO 32000-2 7.5: file structure
 */
export function writeFile(objects: readonly (readonly [PDFRef, PDFObject])[], root: PDFRef): Uint8Array<ArrayBuffer> {
  const parts: Uint8Array[] = [HEADER];
  let sections = 'xref\n0 1\n0000000000 65535 f \n';
  let offset = HEADER.length;
  const add = (part: Uint8Array): void => {
    parts.push(part);
    offset += part.length;
  };
  for (const [ref, object] of objects) {
    const row = `${String(offset).padStart(10, '0')} ${String(ref.generationNumber).padStart(5, '0')} n \n`;
    sections += `${ref.objectNumber} 1\n${row}`;
    add(encoder.encode(`${ref.objectNumber} ${ref.generationNumber} obj\n`));
    if (object instanceof PDFStream) {
      const { dict, contents } = unfolded(object);
      dict.set(PDFName.of('Length'), PDFNumber.of(contents.length));
      add(serialised(dict));
      add(START_OF_STREAM);
      add(contents);
      add(END_OF_STREAM);
    } else {
      add(serialised(object));
    }
    add(END_OF_OBJECT);
  }
  const size = 1 + objects.reduce((most, [ref]) => Math.max(most, ref.objectNumber), 0);
  const trailer = `trailer\n<< /Size ${size} /Root ${root.toString()} >>\nstartxref\n${offset}\n%%EOF\n`;
  add(encoder.encode(sections + trailer));
  return joined(parts, offset);
}

function serialised(object: PDFObject): Uint8Array {
  const bytes = new Uint8Array(object.sizeInBytes());
  object.copyBytesInto(bytes, 0);
  return bytes;
}

function joined(parts: readonly Uint8Array[], length: number): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
