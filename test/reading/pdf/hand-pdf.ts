import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { Limits } from '../../../src/model/index.ts';
import { openBook } from '../../../src/reading/pdf/book.ts';
import type { Book } from '../../../src/reading/pdf/book.ts';

/** A file's objects by number, each as it stands between `obj` and `endobj`. */
export type HandObjects = Readonly<Record<number, string | Buffer>>;

const latin1 = (text: string): Buffer => Buffer.from(text, 'latin1');

/** A stream as an object: its dictionary's entries and its data, as coded. */
export function stream(entries: string, data: string | Buffer): Buffer {
  const bytes = typeof data === 'string' ? latin1(data) : data;
  return Buffer.concat([latin1(`<<${entries}/Length ${bytes.length}>>\nstream\n`), bytes, latin1('\nendstream')]);
}

/** A PDF file with these objects, its cross-reference table right; object 1 is the catalog. */
export function handPdf(objects: HandObjects): Buffer {
  const parts = [latin1('%PDF-1.7\n%\xe2\xe3\xcf\xd3\n')];
  let length = parts[0]!.length;
  const numbers = Object.keys(objects).map(Number);
  const offsets = new Map<number, number>();
  for (const number of numbers) {
    offsets.set(number, length);
    const body = objects[number]!;
    const whole = Buffer.concat([
      latin1(`${number} 0 obj\n`),
      typeof body === 'string' ? latin1(body) : body,
      latin1('\nendobj\n'),
    ]);
    parts.push(whole);
    length += whole.length;
  }
  const size = Math.max(...numbers) + 1;
  const rows = Array.from({ length: size }, (_, number) => {
    const offset = offsets.get(number);
    return offset === undefined ? '0000000000 65535 f \n' : `${String(offset).padStart(10, '0')} 00000 n \n`;
  });
  parts.push(
    latin1(`xref\n0 ${size}\n${rows.join('')}trailer\n<</Size ${size}/Root 1 0 R>>\nstartxref\n${length}\n%%EOF\n`),
  );
  return Buffer.concat(parts);
}

/** The catalog, the page tree and one page (object 3) around further objects. */
export function onePage(page: string, objects: HandObjects, catalog = ''): Buffer {
  return handPdf({
    1: `<</Type/Catalog/Pages 2 0 R${catalog}>>`,
    2: '<</Type/Pages/Count 1/Kids[3 0 R]>>',
    3: `<</Type/Page/Parent 2 0 R${page}>>`,
    ...objects,
  });
}

/** One page of 200 x 200 points that draws `content` with these resources. */
export function drawing(content: string | Buffer, resources: string, objects: HandObjects = {}, catalog = ''): Buffer {
  return onePage(
    `/MediaBox[0 0 200 200]/Contents 4 0 R/Resources<<${resources}>>`,
    { 4: stream('', content), ...objects },
    catalog,
  );
}

/** A grey image of `width` x `height` pixels, all of one value. */
export function greyImage(width: number, height: number, value = 128, entries = ''): Buffer {
  return stream(
    `/Type/XObject/Subtype/Image/Width ${width}/Height ${height}/ColorSpace/DeviceGray/BitsPerComponent 8${entries}`,
    Buffer.alloc(width * height, value),
  );
}

const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-hand-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let written = 0;

/** Writes bytes to a file of their own that is gone when the tests end. */
export function fileOf(bytes: Uint8Array, name = 'hand.pdf'): string {
  written += 1;
  const path = join(folder, `${written}-${name}`);
  writeFileSync(path, bytes);
  return path;
}

/** Opens a file made of these bytes. */
export async function bookOf(bytes: Uint8Array, limits: Partial<Limits> = {}): Promise<Book> {
  return openBook(fileOf(bytes), { ...DEFAULT_LIMITS, ...limits });
}
