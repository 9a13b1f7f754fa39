import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { appendFileSync, mkdtempSync, openSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { ArrivingFile } from '../../../src/reading/arriving/index.ts';
import type { ArrivedFile } from '../../../src/reading/arriving/index.ts';
import { openBook } from '../../../src/reading/pdf/book.ts';
import { describePage } from '../../../src/reading/pdf/describe-page.ts';
import { handPdf, stream } from './hand-pdf.ts';

const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let made = 0;
const newPath = (): string => join(folder, `${(made += 1)}.pdf`);

const IMAGE = '/Type/XObject/Subtype/Image/Width 1500/Height 1000/ColorSpace/DeviceGray/BitsPerComponent 8';
const samples = (seed: number): Buffer => Buffer.alloc(1_500_000, `${seed} endstream `);
const sha256 = (bytes: Buffer): Buffer => createHash('sha256').update(bytes).digest();

/** A picture whose length stands by itself, behind it. */
const APART = Buffer.concat([
  Buffer.from(`<<${IMAGE}/Length 8 0 R>>\nstream\n`),
  samples(6),
  Buffer.from('\nendstream'),
]);
const BOOK = handPdf({
  1: '<</Type/Catalog/Pages 2 0 R>>',
  2: '<</Type/Pages/Count 1/Kids[3 0 R]>>',
  3: '<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]/Resources<</XObject<</A 5 0 R/B 6 0 R/C 7 0 R>>>>/Contents 4 0 R>>',
  4: stream('', 'q 90 0 0 90 9 5 cm /A Do Q q 90 0 0 90 19 5 cm /B Do Q q 90 0 0 90 29 5 cm /C Do Q'),
  5: stream(IMAGE, samples(5)),
  6: APART,
  8: '1500000',
  7: stream(IMAGE, samples(7)),
});

/** Writes a file piece by piece and has it read behind each. */
function arrive(bytes: Buffer, ends: readonly number[], path = newPath()): ArrivedFile {
  writeFileSync(path, '');
  const arriving = new ArrivingFile(openSync(path, 'r'));
  let written = 0;
  for (const end of [...ends, bytes.length]) {
    appendFileSync(path, bytes.subarray(written, end));
    written = end;
    arriving.readTo(end);
  }
  const arrived = arriving.end();
  arriving.close();
  return arrived;
}

describe('a file that is read back while it arrives', () => {
  test('has the hash that sha256sum (coreutils) tells, whatever pieces it came in, and that of each long data in it', () => {
    const cut = fc.array(fc.nat({ max: BOOK.length }), { maxLength: 12 });
    const path = newPath();
    fc.assert(
      fc.property(cut, (cuts) => {
        const {
          sha256: hash,
          bytes,
          data,
          inode,
        } = arrive(
          BOOK,
          [...cuts].sort((one, other) => one - other),
          path,
        );
        expect(hash).toBe(execFileSync('sha256sum', [path], { encoding: 'utf8' }).slice(0, 64));
        expect([bytes, inode]).toEqual([BOOK.length, statSync(path).ino]);
        expect(data.map(({ at }) => BOOK.subarray(at - 7, at).toString())).toEqual(Array(3).fill('stream\n'));
        expect(data.map((one) => Buffer.from(one.sha256))).toEqual([5, 6, 7].map((seed) => sha256(samples(seed))));
      }),
      { numRuns: 25 },
    );
  });

  test('is read anew where the end of what had come was cut off and other bytes came instead', () => {
    const path = newPath();
    writeFileSync(path, BOOK.subarray(0, 2_000_000));
    const arriving = new ArrivingFile(openSync(path, 'r'));
    arriving.readTo(2_000_000);
    const other = Buffer.from(BOOK);
    other.fill(0x21, 1_000_000, 1_000_100);
    truncateSync(path, 900_000);
    appendFileSync(path, other.subarray(900_000));
    arriving.readTo(900_000);
    arriving.readTo(other.length);
    const { sha256: hash, data } = arriving.end();
    arriving.close();
    expect(hash).toBe(sha256(other).toString('hex'));
    expect(Buffer.from(data[0]!.sha256)).not.toEqual(sha256(samples(5)));
    expect(Buffer.from(data[1]!.sha256)).toEqual(sha256(samples(6)));
  });

  test.each([
    ['is no PDF', Buffer.alloc(3_000_000, 'sheets in grey '), 0],
    ['is out of order from some place on', Buffer.concat([BOOK.subarray(0, 1_600_000), Buffer.alloc(2e6, '(')]), 1],
  ])('that %s is hashed all the same', (_how, bytes, known) => {
    const { sha256: hash, data } = arrive(bytes, [1_000_000, 2_000_000]);
    expect(hash).toBe(sha256(bytes).toString('hex'));
    expect(data).toHaveLength(known);
  });

  test('has pages of the same content hash, whether what its data hash to is known or not', async () => {
    const path = newPath();
    const { data } = arrive(BOOK, [], path);
    const hashOfPage = async (hashed: typeof data): Promise<string> => {
      const book = await openBook(path, DEFAULT_LIMITS, hashed);
      const { contentHash } = describePage(book, 1);
      book.close();
      return contentHash;
    };
    const unknown = await hashOfPage([]);
    expect(await hashOfPage(data)).toBe(unknown);
    // what is known is taken, unless it is known of other data
    const [first, ...others] = data;
    const false1 = { ...first!, sha256: sha256(samples(1)) };
    expect(await hashOfPage([false1, ...others])).not.toBe(unknown);
    expect(await hashOfPage([{ ...false1, bytes: first!.bytes - 1 }, ...others])).toBe(unknown);
  });
});
