import { PDFHexString } from '@cantoo/pdf-lib';
import type { PDFObject, PDFRef } from '@cantoo/pdf-lib';
import { requirePlace } from './file-end.ts';
import type { FileEnd } from './file-end.ts';

/** What a trailer says. */
export interface Trailer {
  readonly root: PDFRef;
  readonly info: PDFObject | undefined;
  /** First the file's own for good, then this edition's; 16 bytes each in hex. @source ISO 32000-2 14.4 */
  readonly id: readonly [string, string];
  /** One more than the highest object number in use. */
  readonly size: number;
}

/** An object and its bytes as they stand between `obj` and `endobj`. */
export type Written = readonly [ref: PDFRef, body: Uint8Array];

/** The bytes of some objects, and where each of them begins in the file. */
export interface WrittenPart {
  readonly bytes: Uint8Array;
  readonly places: ReadonlyMap<PDFRef, number>;
}

/** An object as a file has it. */
export function bodyOf(object: PDFObject): Uint8Array {
  const body = new Uint8Array(object.sizeInBytes());
  object.copyBytesInto(body, 0);
  return body;
}

/**
 * Writes objects and the cross-reference section behind them.
 *
 * @param from  where in the file the part begins
 * @param before  the section that this one continues; null for a file that is written anew
 * @source ISO 32000-2 7.5.4, 7.5.5, 7.5.6, 7.5.8
 */
export function writeObjects(
  objects: readonly Written[],
  from: number,
  before: FileEnd,
  trailer: Trailer,
): WrittenPart {
  const chunks: Uint8Array[] = [];
  const places = new Map<PDFRef, number>();
  let at = from;
  const put = (chunk: string | Uint8Array): void => {
    const bytes = typeof chunk === 'string' ? Buffer.from(chunk, 'latin1') : chunk;
    chunks.push(bytes);
    at += bytes.length;
  };
  put(before === null ? '%PDF-1.7\n%\xe2\xe3\xcf\xd3\n' : '\n');
  const inOrder = [...objects].sort(([one], [other]) => one.objectNumber - other.objectNumber);
  for (const [ref, body] of inOrder) {
    places.set(ref, at);
    put(`${ref.objectNumber} ${ref.generationNumber} obj\n`);
    put(body);
    put('\nendobj\n');
  }
  const start = requirePlace(at);
  const common = [
    `/Root ${trailer.root.toString()}`,
    ...(trailer.info === undefined ? [] : [`/Info ${trailer.info.toString()}`]),
    `/ID [${trailer.id.map((hex) => PDFHexString.of(hex).toString()).join(' ')}]`,
    ...(before === null ? [] : [`/Prev ${before.at}`]),
  ].join(' ');
  const entries = inOrder.map(([ref]) => ({ ref, place: places.get(ref) ?? 0 }));
  if (before?.form === 'stream') {
    put(referenceStream(entries, trailer.size, start, common));
  } else {
    put(referenceTable(entries, before === null));
    put(`trailer\n<< /Size ${trailer.size} ${common} >>\n`);
  }
  put(`startxref\n${start}\n%%EOF\n`);
  return { bytes: Buffer.concat(chunks), places };
}

interface Entry {
  readonly ref: PDFRef;
  readonly place: number;
}

/** In a whole file every number up to the highest has its entry; in an update only what is there. */
function referenceTable(entries: readonly Entry[], whole: boolean): string {
  const lines = [`${'0'.repeat(10)} 65535 f \n`];
  const sections = [{ first: 0, lines }];
  for (const { ref, place } of entries) {
    let section = sections.at(-1) ?? { first: 0, lines };
    const next = section.first + section.lines.length;
    if (whole) {
      for (let free = next; free < ref.objectNumber; free += 1) section.lines.push(`${'0'.repeat(10)} 65535 f \n`);
    } else if (next !== ref.objectNumber) {
      section = { first: ref.objectNumber, lines: [] };
      sections.push(section);
    }
    section.lines.push(`${`${place}`.padStart(10, '0')} ${`${ref.generationNumber}`.padStart(5, '0')} n \n`);
  }
  return `xref\n${sections.map(({ first, lines: own }) => `${first} ${own.length}\n${own.join('')}`).join('')}`;
}

/** The stream is an object too, with the next free number, and has its own entry; five bytes hold a place. */
function referenceStream(entries: readonly Entry[], number: number, start: number, common: string): Buffer {
  const rows = [
    ...entries.map(({ ref, place }) => [ref.objectNumber, place, ref.generationNumber]),
    [number, start, 0],
  ];
  const data = Buffer.alloc(rows.length * 8);
  const index: number[] = [];
  rows.forEach(([own = 0, place = 0, generation = 0], row) => {
    data.writeUInt8(1, row * 8);
    data.writeUIntBE(place, row * 8 + 1, 5);
    data.writeUInt16BE(generation, row * 8 + 6);
    if (own === (index.at(-2) ?? -1) + (index.at(-1) ?? 0)) index.push((index.pop() ?? 0) + 1);
    else index.push(own, 1);
  });
  const dict = `<< /Type /XRef /Size ${number + 1} ${common} /W [1 5 2] /Index [${index.join(' ')}] /Length ${data.length} >>`;
  return Buffer.concat([Buffer.from(`${number} 0 obj\n${dict}\nstream\n`), data, Buffer.from('\nendstream\nendobj\n')]);
}
