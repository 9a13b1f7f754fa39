import { basename, dirname, join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, Refusal } from '../../../src/model/index.ts';
import type { Limits } from '../../../src/model/index.ts';
import { openBook } from '../../../src/reading/pdf/book.ts';
import { describePage } from '../../../src/reading/pdf/describe-page.ts';
import { fileIdentity } from '../../../src/reading/pdf/file-bytes.ts';
import { featurePdf } from './feature-book.ts';
import { drawing, fileOf, handPdf, onePage, stream } from './hand-pdf.ts';
import { hasTool, run } from './outside-tool.ts';

/** What reading every page of a file comes to: its hashes, or the refusal as one value. */
async function outcome(path: string, limits: Partial<Limits> = {}): Promise<unknown> {
  try {
    const book = await openBook(path, { ...DEFAULT_LIMITS, ...limits });
    return Array.from({ length: book.pageCount }, (_, index) => describePage(book, index + 1).contentHash);
  } catch (error) {
    if (error instanceof Refusal) return { kind: (error as Refusal).kind, ...(error as Refusal).details };
    throw error;
  }
}

const ofBytes = (bytes: Uint8Array, limits: Partial<Limits> = {}): Promise<unknown> =>
  outcome(fileOf(bytes, 'book.pdf'), limits).then((result) =>
    typeof result === 'object' && result !== null && 'file' in result ? { ...result, file: 'book.pdf' } : result,
  );

const unreadable = (reason: string, page?: number): unknown => ({
  kind: 'unreadable',
  file: 'book.pdf',
  reason,
  ...(page === undefined ? {} : { page }),
});

describe('a file is refused with its cause when it', () => {
  it('is not there', async () => {
    const path = join(dirname(fileOf(Buffer.from('x'))), 'nowhere.pdf');
    expect(await outcome(path)).toEqual({ kind: 'not-found', what: path });
  });

  it('is a folder', async () => {
    const path = dirname(fileOf(Buffer.from('x')));
    expect(await outcome(path)).toEqual({ kind: 'unreadable', file: basename(path), reason: 'this is a folder' });
  });

  it.each<[string, Uint8Array, unknown]>([
    ['is empty', Buffer.alloc(0), unreadable('the file is empty')],
    ['is not a PDF', Buffer.from('Dear printer,\nplease find enclosed'), unreadable('it is not a PDF file')],
    ['has no end', Buffer.from('%PDF-1.7\nnothing more'), unreadable('it is truncated: its end is missing')],
    ['has no page tree', handPdf({ 1: '<</Type/Catalog>>' }), unreadable('its page tree is missing')],
    [
      'has no catalog',
      handPdf({ 2: '<</Type/Pages/Count 0/Kids[]>>' }),
      unreadable('its catalog is missing: damaged or truncated'),
    ],
    [
      'has no pages',
      handPdf({ 1: '<</Type/Catalog/Pages 2 0 R>>', 2: '<</Type/Pages/Count 0/Kids[]>>' }),
      unreadable('it has no pages'),
    ],
    [
      'has only a page tree that stands above itself',
      handPdf({ 1: '<</Type/Catalog/Pages 2 0 R>>', 2: '<</Type/Pages/Count 1/Kids[2 0 R]>>' }),
      unreadable('it has no pages'),
    ],
    [
      'names a page that it does not hold',
      handPdf({ 1: '<</Type/Catalog/Pages 2 0 R>>', 2: '<</Type/Pages/Count 1/Kids[7 0 R]>>' }),
      unreadable('page 1 is named in its page tree but is not in the file (object 7): damaged or truncated'),
    ],
    [
      'has a page without a MediaBox',
      onePage('/Contents 4 0 R', { 4: stream('', '') }),
      unreadable('it has no MediaBox with an area', 1),
    ],
    [
      'has a page whose content it does not hold',
      onePage('/MediaBox[0 0 9 9]/Contents 8 0 R', {}),
      unreadable('its content (object 8) is not in the file', 1),
    ],
    [
      'has a picture’s data for content',
      onePage('/MediaBox[0 0 9 9]/Contents 4 0 R', { 4: stream('/Filter/DCTDecode', 'abc') }),
      unreadable('a content stream is under the filter DCTDecode, which holds no content', 1),
    ],
  ])('%s', async (_, bytes, expected) => {
    expect(await ofBytes(bytes)).toEqual(expected);
  });

  const qpdf = hasTool('qpdf', 'qpdf');
  it.skipIf(!qpdf).each([
    ['a password', 'secret'],
    ['a password of its owner only', ''],
  ])('is encrypted with %s', async (_, user) => {
    const path = fileOf(featurePdf());
    const locked = `${path}-locked.pdf`;
    run('qpdf', ['--encrypt', user, 'owner', '256', '--', path, locked]);
    expect(await outcome(locked)).toEqual({
      kind: 'unreadable',
      file: basename(locked),
      reason: 'it is encrypted: save it without a password',
    });
  });
});

describe('a file over a limit is refused with the limit', () => {
  const kids = (count: number): Buffer =>
    handPdf({
      1: '<</Type/Catalog/Pages 2 0 R>>',
      2: `<</Type/Pages/Count ${count}/Kids[${'3 0 R '.repeat(count)}]>>`,
      3: '<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]>>',
    });
  const bomb = (): Buffer => deflateSync(Buffer.alloc(40 * 2 ** 20), { level: 9 });
  const nested = (): Buffer => {
    const forms: Record<number, Buffer> = {};
    for (let level = 0; level < 60; level += 1) {
      const entries = `/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F ${11 + level} 0 R>>>>`;
      forms[10 + level] = stream(entries, '/F Do');
    }
    return drawing('/F Do', '/XObject<</F 10 0 R>>', forms);
  };
  const doubling = (): Buffer => {
    const forms: Record<number, Buffer> = {};
    for (let level = 0; level < 30; level += 1) {
      const entries = `/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F ${11 + level} 0 R>>>>`;
      forms[10 + level] = stream(entries, '/F Do /F Do');
    }
    return drawing('/F Do', '/XObject<</F 10 0 R>>', forms);
  };

  it.each<[string, () => Buffer, Partial<Limits>, unknown]>([
    ['bytes', () => drawing('', ''), { fileBytes: 100 }, { what: 'book.pdf', limit: 100, unit: 'bytes' }],
    ['10,000 pages', () => kids(10_000), {}, { what: 'book.pdf', limit: 5000, found: 10_000, unit: 'pages' }],
    [
      'a page of 5 x 5 m',
      () => onePage('/MediaBox[0 0 14174 14174]', {}),
      {},
      { what: 'a side of the trimmed page', limit: 2000, found: 5000, unit: 'mm', page: 1 },
    ],
    [
      'content that unfolds without end',
      () => onePage('/MediaBox[0 0 9 9]/Contents 4 0 R', { 4: stream('/Filter/FlateDecode', bomb()) }),
      { streamBytes: 2 ** 20 },
      { what: 'a stream when unfolded', limit: 2 ** 20, found: 2 ** 20 + 1, unit: 'bytes', page: 1 },
    ],
    [
      'a picture that unfolds without end',
      () =>
        drawing('/A Do', '/XObject<</A 9 0 R>>', {
          9: stream('/Subtype/Image/Width 60000/Height 60000/Filter/FlateDecode', bomb()),
        }),
      { streamBytes: 2 ** 20 },
      { what: 'a stream when unfolded', limit: 2 ** 20, found: 2 ** 20 + 1, unit: 'bytes', page: 1 },
    ],
    [
      'objects packed to unfold without end',
      () =>
        handPdf({
          1: '<</Type/Catalog/Pages 2 0 R>>',
          2: '<</Type/Pages/Count 1/Kids[3 0 R]>>',
          3: '<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]>>',
          4: stream('/Type/ObjStm/N 1/First 4/Filter/FlateDecode', bomb()),
        }),
      { streamBytes: 2 ** 20 },
      { what: 'a stream when unfolded', limit: 2 ** 20, found: 2 ** 20 + 1, unit: 'bytes' },
    ],
    ['forms in forms', nested, {}, { what: 'forms inside forms', limit: 40, found: 41, unit: 'levels', page: 1 }],
    [
      'forms that draw each other twice, thirty deep',
      doubling,
      { operators: 20_000 },
      { what: 'the content', limit: 20_000, found: 20_001, unit: 'operators', page: 1 },
    ],
    [
      'arrays in arrays in content',
      () => drawing('['.repeat(100_000), ''),
      {},
      { what: 'arrays inside arrays of a content stream', limit: 100, found: 101, unit: 'levels', page: 1 },
    ],
    [
      'numbers before no operator',
      () => drawing('1 '.repeat(70_000), ''),
      {},
      { what: 'what stands before one operator', limit: 65_536, found: 65_537, unit: 'operands', page: 1 },
    ],
  ])('%s', async (_, make, limits, expected) => {
    const result = await outcome(fileOf(make(), 'book.pdf'), limits);
    const named = JSON.parse(JSON.stringify(result).replace(/"\d+-book\.pdf"/, '"book.pdf"')) as unknown;
    expect(named).toMatchObject({ kind: 'too-large', ...(expected as object) });
  });
});

// What hangs is stopped by the time that the runner gives each test.
describe('a damaged file neither hangs nor crashes', () => {
  const whole = featurePdf();
  let right: unknown;
  beforeAll(async () => {
    right = await outcome(fileOf(whole));
  });

  it('cut at any byte: it is refused, or read as before', async () => {
    const cuts = Array.from({ length: 60 }, (_, index) => Math.floor((whole.length * (index + 0.5)) / 60));
    const near = Array.from({ length: 40 }, (_, index) => whole.length - index);
    for (const cut of [...cuts, ...near]) {
      const result = await ofBytes(whole.subarray(0, cut));
      if (!Array.isArray(result)) {
        expect(result).toMatchObject({ kind: 'unreadable' });
        continue;
      }
      expect(result).toEqual(right);
    }
  });

  it('with a cross-reference table that points nowhere: its objects are found all the same', async () => {
    const text = whole.toString('latin1').replace(/^\d{10} 00000 n /gm, '0000000099 00000 n ');
    expect(await ofBytes(Buffer.from(text, 'latin1'))).toEqual(right);
  });

  it('with bytes overwritten anywhere: it is refused, or read', async () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const copy = Buffer.from(whole);
      for (let hit = 1; hit <= 4; hit += 1) copy[(seed * 7919 * hit) % 12_000] = (seed * 31 + hit * 17) & 255;
      const result = await ofBytes(copy);
      if (!Array.isArray(result)) expect((result as { kind: string }).kind).toMatch(/unreadable|too-large/);
    }
  });

  it.each<[string, () => Buffer]>([
    ['an array that never ends', () => onePage('/MediaBox[0 0 9 9]/Contents 4 0 R', { 4: '['.repeat(200_000) })],
    ['dictionaries in dictionaries', () => onePage(`/MediaBox[0 0 9 9]/X ${'<</A'.repeat(50_000)}`, {})],
    ['a million digits', () => onePage('/MediaBox[0 0 9 9]', { 4: `null\n${'1'.repeat(1_000_000)}` })],
    ['a million spaces', () => onePage('/MediaBox[0 0 9 9]', { 4: `null\nx${' '.repeat(1_000_000)}y` })],
    ['a reference to itself for content', () => onePage('/MediaBox[0 0 9 9]/Contents 4 0 R', { 4: '4 0 R' })],
    [
      'a form in its own resources, a mask in its own state',
      () =>
        drawing('/F Do /G gs', '/XObject<</F 8 0 R>>/ExtGState<</G 9 0 R>>', {
          8: stream('/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F 8 0 R>>>>', '/F Do'),
          9: '<</SMask<</G 10 0 R>>/Self 9 0 R>>',
          10: stream('/Subtype/Form/BBox[0 0 9 9]/Resources<</ExtGState<</G 9 0 R>>>>', '/G gs'),
        }),
    ],
    [
      'a chain of fifty thousand objects',
      () => {
        const chain: Record<number, string> = {};
        for (let link = 10; link < 50_000; link += 1) chain[link] = `<</Next ${link + 1} 0 R>>`;
        return drawing('/G gs', '/ExtGState<</G 10 0 R>>', chain);
      },
    ],
    [
      'pairs of pairs of pairs, forty deep',
      () => {
        const pairs: Record<number, string> = {};
        for (let level = 10; level < 50; level += 1) pairs[level] = `[${level + 1} 0 R ${level + 1} 0 R]`;
        return drawing('/G gs', '/ExtGState<</G<</X 10 0 R>>>>', { ...pairs, 50: '1' });
      },
    ],
  ])('%s', async (_, make) => {
    const result = await ofBytes(make(), { operators: 200_000 });
    if (!Array.isArray(result)) expect((result as { kind: string }).kind).toMatch(/unreadable|too-large/);
  });
});

it('one page that cannot be read leaves the others', async () => {
  const path = fileOf(
    handPdf({
      1: '<</Type/Catalog/Pages 2 0 R>>',
      2: '<</Type/Pages/Count 2/Kids[3 0 R 4 0 R]/MediaBox[0 0 9 9]>>',
      3: '<</Type/Page/Parent 2 0 R/Contents 99 0 R>>',
      4: '<</Type/Page/Parent 2 0 R>>',
    }),
  );
  const book = await openBook(path, DEFAULT_LIMITS);
  expect(() => describePage(book, 1)).toThrowError(
    `${basename(path)}: page 1: its content (object 99) is not in the file`,
  );
  expect(describePage(book, 2)).toMatchObject({ pageNumber: 2, pictures: [] });
});

it('a file’s identity is its SHA-256 and its length', async () => {
  const path = fileOf(Buffer.from('abc'));
  expect(await fileIdentity(path)).toEqual({
    sha256: 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    bytes: 3,
  });
  const book = await openBook(fileOf(featurePdf()), DEFAULT_LIMITS);
  expect(await fileIdentity(book.path)).toEqual({ sha256: book.sha256, bytes: book.bytes });
});
