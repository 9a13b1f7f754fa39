import { mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { describePage } from '../../../src/reading/pdf/describe-page.ts';
import { openBook, openBookFrom } from '../../../src/reading/pdf/book.ts';
import { DiskFile } from '../../../src/reading/pdf/disk-file.ts';
import { skimFile } from '../../../src/reading/pdf/skim-file.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { handPdf, stream } from './hand-pdf.ts';
import type { HandObjects } from './hand-pdf.ts';

const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let written = 0;
const fileOf = (bytes: Buffer): string => {
  const path = join(folder, `${(written += 1)}.pdf`);
  writeFileSync(path, bytes);
  return path;
};

const WIDTH = 1500;
const BYTES = WIDTH * 1000;
const IMAGE = `/Type/XObject/Subtype/Image/Width ${WIDTH}/Height 1000/ColorSpace/DeviceGray/BitsPerComponent 8`;
/** Grey samples, in which a word stands somewhere. */
function samples(seed: number, word = ''): Buffer {
  const data = Buffer.alloc(BYTES, seed);
  data.write(word, 5000, 'latin1');
  return data;
}

/** A stream whose length is an object of its own. */
function lengthApart(entries: string, data: Buffer, length: number): Buffer {
  const head = Buffer.from(`<<${entries}/Length ${length} 0 R>>\nstream\n`, 'latin1');
  return Buffer.concat([head, data, Buffer.from('\nendstream', 'latin1')]);
}

function bookWith(pictures: Readonly<Record<number, string | Buffer>>, more: HandObjects = {}): HandObjects {
  const numbers = Object.keys(pictures).map(Number);
  const names = numbers.map((number) => `/I${number} ${number} 0 R`).join('');
  const content = numbers.map((number) => `q 90 0 0 90 ${number} 5 cm /I${number} Do Q`).join('\n');
  return {
    1: '<</Type/Catalog/Pages 2 0 R>>',
    2: '<</Type/Pages/Count 1/Kids[3 0 R]>>',
    3: `<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]/Resources<</XObject<<${names}>>>>/Contents 4 0 R>>`,
    4: stream('', content),
    ...pictures,
    ...more,
  };
}

/** What a page of a file tells, read from disk in parts and from memory whole. */
async function bothWays(bytes: Buffer) {
  const path = fileOf(bytes);
  const [parted, whole] = [
    await openBook(path, DEFAULT_LIMITS),
    await openBookFrom({ path, contents: bytes }, DEFAULT_LIMITS),
  ];
  const told = [parted, whole].map((book) => ({
    page: describePage(book, 1),
    sha256: book.sha256,
    bytes: book.bytes,
  }));
  parted.close();
  return { told, file: path };
}

function skimmed(path: string): number | null {
  const file = new DiskFile(path);
  const found = skimFile(file);
  file.close();
  return found === null ? null : found.bytes.length;
}

/** What something is refused with. */
function refusalOf(attempt: () => unknown): unknown {
  try {
    return attempt();
  } catch (error) {
    return error;
  }
}

const TRICKY = [
  'endstream endobj',
  '\nendstream\nendobj\n9 0 obj',
  '>>\nstream\n',
  '8 0 obj 12 endobj',
  '%%EOF startxref (',
];

describe('a large file of which the data of pictures are left on disk', () => {
  test.each(TRICKY)('tells what the whole file tells, also where data read like structure: %j', async (word) => {
    const pictures = {
      5: stream(IMAGE, samples(1, word)),
      6: lengthApart(IMAGE, samples(2, word), 8),
      7: stream(IMAGE, samples(3)),
    };
    const { told, file } = await bothWays(
      handPdf({ ...bookWith(pictures), 8: String(BYTES), 9: '(a string \\) (of) <<)' }),
    );
    expect(told[0]).toEqual(told[1]);
    expect(told[0]!.bytes).toBeGreaterThan(4 * 2 ** 20);
    expect(told[0]!.page.pictures).toHaveLength(3);
    const left = skimmed(file);
    // data that read like the length of another picture send the whole file the slow way
    if (word.startsWith('8 0 obj')) expect(left).toBeNull();
    else expect(left).toBeLessThan(10_000);
  });

  test('is read whole where anything is out of order, and tells the same', async () => {
    const good = {
      5: stream(IMAGE, samples(1)),
      6: stream(IMAGE, samples(2)),
      7: stream(IMAGE, samples(3)),
      8: stream(IMAGE, samples(4)),
    };
    const book = handPdf(bookWith(good));
    const wrongLength = handPdf(
      bookWith({
        ...good,
        6: Buffer.from(
          stream(IMAGE, samples(2))
            .toString('latin1')
            .replace(`/Length ${BYTES}`, `/Length ${BYTES - 1000}`),
          'latin1',
        ),
      }),
    );
    const at = book.indexOf('6 0 obj');
    const junk = Buffer.concat([book.subarray(0, at), Buffer.from('(left over\n'), book.subarray(at)]);
    for (const bytes of [wrongLength, junk]) {
      const { told, file } = await bothWays(bytes);
      expect(skimmed(file)).toBeNull();
      expect(told[0]).toEqual(told[1]);
      expect(told[0]!.page.pictures).toHaveLength(4);
    }
  });

  test('cut off anywhere is refused as it is when read whole', async () => {
    const book = handPdf(
      bookWith({
        5: stream(IMAGE, samples(1)),
        6: stream(IMAGE, samples(2)),
        7: stream(IMAGE, samples(3)),
        8: stream(IMAGE, samples(4)),
      }),
    );
    const first = book.indexOf('8 0 obj') - 20;
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: first, max: book.length - 1 }), async (end) => {
        const bytes = book.subarray(0, end);
        const path = fileOf(bytes);
        const tell = (open: Promise<unknown>): Promise<unknown> =>
          open.then(
            () => 'opened',
            (error: { kind: string; details: unknown }) => [error.kind, error.details],
          );
        expect(await tell(openBook(path, DEFAULT_LIMITS))).toEqual(
          await tell(openBookFrom({ path, contents: bytes }, DEFAULT_LIMITS)),
        );
        rmSync(path);
      }),
      { seed: 20261129, numRuns: 12 },
    );
  });

  test('refuses to read on once the file was changed or closed', async () => {
    const path = fileOf(
      handPdf(
        bookWith({
          5: stream(IMAGE, samples(1)),
          6: stream(IMAGE, samples(2)),
          7: stream(IMAGE, samples(3)),
          8: stream(IMAGE, samples(4)),
        }),
      ),
    );
    const book = await openBook(path, DEFAULT_LIMITS);
    utimesSync(path, 1, 1);
    const refused = { kind: 'unreadable', details: { reason: 'the file was changed while it was read' } };
    expect(refusalOf(() => describePage(book, 1))).toMatchObject(refused);
    book.close();
    expect(refusalOf(() => book.sha256)).toMatchObject({ kind: 'not-found' });
  });
});
