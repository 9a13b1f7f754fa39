import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../src/model/index.ts';
import { fileOf, handPdf, stream } from '../reading/pdf/hand-pdf.ts';
import { hasTool, run } from '../reading/pdf/outside-tool.ts';
import { checkOf } from './check-of.ts';

const FORM = '/Type/XObject/Subtype/Form/BBox[0 0 283 283]';

/** A book of pages given by what stands in their dictionaries and the objects they share. */
function bookOf(pages: readonly string[], objects: Readonly<Record<number, string | Buffer>> = {}): string {
  const first = 1000;
  const kids = pages.map((_, index) => `${first + index} 0 R`).join(' ');
  const nodes = pages.map((page, index) => [first + index, `<</Type/Page/Parent 2 0 R${page}>>`] as const);
  const tree = `<</Type/Pages/Count ${pages.length}/Kids[${kids}]/MediaBox[0 0 283 283]>>`;
  return fileOf(
    handPdf({ 1: '<</Type/Catalog/Pages 2 0 R>>', 2: tree, ...objects, ...Object.fromEntries(nodes) }),
    'book.pdf',
  );
}

const PLAIN = {
  10: stream('', '0.2 0.4 0.6 rg 40 40 100 120 re f'),
  11: stream('', '0.6 0.2 0.2 rg 140 90 80 90 re f'),
};
const GOOD = ['/Contents 10 0 R', '/Contents 11 0 R'];
const good = (): string => bookOf(GOOD, PLAIN);
const whole = (): Buffer => readFileSync(good());

describe('a revision that cannot be compared at all is refused in one line', () => {
  it.each<[string, () => Uint8Array, RegExp]>([
    ['no PDF', () => Buffer.from('Dear printer,'), /: it is not a PDF file$/],
    ['empty', () => Buffer.alloc(0), /: the file is empty$/],
    ['cut off', () => whole().subarray(0, whole().length / 2), /: it is truncated: its end is missing$/],
    ['without pages', () => readFileSync(bookOf([])), /: it has no pages$/],
    [
      'of too many pages',
      () => readFileSync(bookOf([...GOOD, ...GOOD], PLAIN)),
      /at most 3 pages allowed, 4 pages found$/,
    ],
  ])('%s', async (_, bytes, line) => {
    const path = fileOf(bytes(), 'revision.pdf');
    const told = checkOf(good(), path, { limits: { ...DEFAULT_LIMITS, pages: 3 } });
    await expect(told).rejects.toMatchObject({ name: 'Refusal', message: expect.stringMatching(line) as string });
  });

  it.skipIf(!hasTool('qpdf', 'qpdf'))('under a password', async () => {
    const locked = `${good()}-locked.pdf`;
    run('qpdf', ['--encrypt', 'reader', 'owner', '256', '--', good(), locked]);
    const line = `${basename(locked)}: it is encrypted: save it without a password`;
    await expect(checkOf(good(), locked)).rejects.toMatchObject({ name: 'Refusal', message: line });
  });
});

it('a cross-reference table that points nowhere is no difference', async () => {
  const text = whole()
    .toString('latin1')
    .replace(/^\d{10} 00000 n /gm, '0000000099 00000 n ');
  expect((await checkOf(good(), fileOf(Buffer.from(text, 'latin1')))).verdict).toBe('match');
});

describe('a hostile page is told with its cause, and the others are compared', () => {
  const nested = Object.fromEntries(
    Array.from({ length: 60 }, (_, level) => [
      100 + level,
      stream(`${FORM}/Resources<</XObject<</F ${101 + level} 0 R>>>>`, '/F Do'),
    ]),
  );
  const objects = {
    ...PLAIN,
    ...nested,
    20: stream('', 'q 200 0 0 200 20 20 cm /P Do Q'),
    21: stream(
      '/Type/XObject/Subtype/Image/Width 60000/Height 60000/ColorSpace/DeviceGray/BitsPerComponent 8/Filter/FlateDecode',
      deflateSync(Buffer.alloc(2 ** 20), { level: 9 }),
    ),
    22: stream('', '/F Do'),
  };
  const page = {
    pixels: '/Contents 20 0 R/Resources<</XObject<</P 21 0 R>>>>',
    metres: '/MediaBox[0 0 14174 14174]/Contents 10 0 R',
  };
  const forms = '/Contents 22 0 R/Resources<</XObject<</F 100 0 R>>>>';
  // Forms that draw themselves, after what can be seen of them.
  const itself = { 23: stream(`${FORM}/Resources<</XObject<</F 23 0 R>>>>`, '0.1 0.7 0.3 rg 90 90 60 60 re f /F Do') };
  const round = '/Contents 22 0 R/Resources<</XObject<</F 23 0 R>>>>';

  it('60,000 x 60,000 pixels in a small stream, 5 x 5 metres, sixty forms deep', async () => {
    const pages = [GOOD[0]!, page.pixels, page.metres, forms, GOOD[1]!];
    const report = await checkOf(
      bookOf(
        pages.map((_, index) => `/Contents ${index % 2 === 0 ? 10 : 11} 0 R`),
        PLAIN,
      ),
      bookOf(pages, objects),
    );
    const causes = report.findings.flatMap((finding) =>
      finding.kind === 'page-unreadable' ? [[finding.revisionPage, finding.measured.cause] as const] : [],
    );
    expect(causes).toEqual([
      [2, expect.stringMatching(/pixels/)],
      [3, expect.stringMatching(/at most 2000 mm allowed, 5000 mm found/)],
      [4, expect.stringMatching(/forms inside forms/)],
    ]);
    expect(report.pages.filter(({ state }) => state === 'same-content')).toMatchObject([
      { revisionPage: 1 },
      { revisionPage: 5 },
    ]);
  });

  it('a form that draws itself: compared or told, never without end', async () => {
    const made = (mark: string): string =>
      bookOf([round, ...GOOD], { ...objects, ...itself, 22: stream('', `/F Do ${mark}`) });
    const report = await checkOf(made('0 g 20 20 40 9 re f'), made(''), {
      limits: { ...DEFAULT_LIMITS, pageMs: 20_000 },
    });
    expect(report.findings.map(({ revisionPage }) => revisionPage)).toContain(1);
    expect(report.findings.every(({ revisionPage }) => revisionPage === 1)).toBe(true);
  });
});

it('ten thousand pages, where they are allowed, are compared', async () => {
  const pages = Array.from(
    { length: 10_000 },
    (_, index) => `/Contents 10 0 R/Rotate 0/MediaBox[0 0 ${200 + index / 50} 283]`,
  );
  const path = bookOf(pages, PLAIN);
  const report = await checkOf(path, path, { limits: { ...DEFAULT_LIMITS, pages: 10_000 } });
  expect({ verdict: report.verdict, pages: report.pages.length }).toEqual({ verdict: 'match', pages: 10_000 });
}, 180_000);
