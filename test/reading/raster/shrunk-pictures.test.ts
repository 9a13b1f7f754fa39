import { deflateSync } from 'node:zlib';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { drawPage, type Book } from '../../../src/reading/index.ts';
import { withDocument } from '../../../src/reading/raster/pdfjs.ts';
import { rasterFromPage } from '../../../src/reading/raster/raster-from-page.ts';
import { placementsOnPage } from '../../../src/reading/pdf/placements.ts';
import { slimPage } from '../../../src/reading/raster/slim-page.ts';
import { refusalOf } from '../refused.ts';
import { photo, photoJpeg, withoutAdobeMarker } from './sample-pictures.ts';
import { rasterDifference } from './raster-difference.ts';
import { openSample, type SampleObjects } from './sample-file.ts';

const PPI = 100;
const [WIDTH, HEIGHT] = [900, 720];
/** What a shrunk picture may differ by from one drawn from its full data: the bound that `smallerPictures` states. */
const BOUND = { mean: 0.6, most: 10 };

type Entries = Readonly<Record<string, unknown>>;

/** A page of 72 x 57.6 mm, or thereabouts, with one picture at 300 ppi, off the grid of the pixels. */
function pageWith(picture: (objects: SampleObjects) => { data: Uint8Array; entries: Entries }): Promise<Book> {
  return openSample((objects) => {
    const { data, entries } = picture(objects);
    const image = objects.stream(data, {
      Type: 'XObject',
      Subtype: 'Image',
      Width: WIDTH,
      Height: HEIGHT,
      BitsPerComponent: 8,
      ...entries,
    });
    const content = 'q 216 0 0 172.8 10.3 8.7 cm /Photo Do Q';
    return [{ media: [0, 0, 240, 190], resources: { XObject: { Photo: image } }, content }];
  });
}

async function drawnFromFullData(book: Book) {
  const file = new Uint8Array(readFileSync(book.path));
  const size = { left: 0, top: 0, width: Math.round((240 * PPI) / 72), height: Math.round((190 * PPI) / 72), ppi: PPI };
  return withDocument(file, async (document) => rasterFromPage(await document.getPage(1), size, () => undefined));
}

async function expectAlike(book: Book): Promise<void> {
  const { raster } = await drawPage({ book, pageNumber: 1, ppi: PPI, limits: DEFAULT_LIMITS });
  const { mean, most } = rasterDifference(raster, await drawnFromFullData(book));
  expect({ mean: mean <= BOUND.mean, most: most <= BOUND.most, found: { mean, most } }).toEqual({
    mean: true,
    most: true,
    found: { mean, most },
  });
}

const CMYK_PROFILE = readFileSync(
  new URL('../../../node_modules/pdfjs-dist/iccs/CGATS001Compat-v2-micro.icc', import.meta.url),
);

describe('a picture shrunk before drawing looks like one drawn from its full data:', () => {
  it('a grey JPEG', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 1);
    await expectAlike(await pageWith(() => ({ data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceGray' } })));
  });

  it('an RGB JPEG', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 3);
    await expectAlike(await pageWith(() => ({ data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceRGB' } })));
  });

  it('a CMYK JPEG as usual: inks turned round, and turned back by the file', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 4);
    const entries = { Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK', Decode: [1, 0, 1, 0, 1, 0, 1, 0] };
    await expectAlike(await pageWith(() => ({ data, entries })));
  });

  it('a CMYK JPEG that the file takes as it is', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 4);
    await expectAlike(await pageWith(() => ({ data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK' } })));
  });

  it('a CMYK JPEG without the Adobe marker, turned round by the file', async () => {
    const data = withoutAdobeMarker(await photoJpeg(WIDTH, HEIGHT, 4));
    const entries = { Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK', Decode: [1, 0, 1, 0, 1, 0, 1, 0] };
    await expectAlike(await pageWith(() => ({ data, entries })));
  });

  it('a CMYK JPEG without the Adobe marker, as it is', async () => {
    const data = withoutAdobeMarker(await photoJpeg(WIDTH, HEIGHT, 4));
    await expectAlike(await pageWith(() => ({ data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK' } })));
  });

  it('a CMYK JPEG with its own profile', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 4);
    await expectAlike(
      await pageWith((objects) => {
        const profile = objects.stream(CMYK_PROFILE, { N: 4 });
        const entries = { Filter: 'DCTDecode', ColorSpace: ['ICCBased', profile], Decode: [1, 0, 1, 0, 1, 0, 1, 0] };
        return { data, entries };
      }),
    );
  });

  for (const [name, channels, space] of [
    ['grey', 1, 'DeviceGray'],
    ['RGB', 3, 'DeviceRGB'],
    ['CMYK', 4, 'DeviceCMYK'],
  ] as const) {
    it(`${name} samples without loss`, async () => {
      const { data } = await photo(WIDTH, HEIGHT, channels);
      const entries = { Filter: 'FlateDecode', ColorSpace: space };
      await expectAlike(await pageWith(() => ({ data: deflateSync(data, { level: 1 }), entries })));
    });
  }

  it('grey samples turned round by the file', async () => {
    const { data } = await photo(WIDTH, HEIGHT, 1);
    const entries = { Filter: 'FlateDecode', ColorSpace: 'DeviceGray', Decode: [1, 0] };
    await expectAlike(await pageWith(() => ({ data: deflateSync(data, { level: 1 }), entries })));
  });

  it('an RGB JPEG with a soft mask', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 3);
    const mask = await photo(WIDTH, HEIGHT, 1);
    await expectAlike(
      await pageWith((objects) => {
        const softMask = objects.stream(deflateSync(mask.data, { level: 1 }), {
          Type: 'XObject',
          Subtype: 'Image',
          Width: WIDTH,
          Height: HEIGHT,
          BitsPerComponent: 8,
          ColorSpace: 'DeviceGray',
          Filter: 'FlateDecode',
        });
        return { data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceRGB', SMask: softMask } };
      }),
    );
  });
});

describe('shrinking', () => {
  it('makes a small file of a page with a big picture', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 3);
    const book = await pageWith(() => ({ data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceRGB' } }));
    const placements = placementsOnPage(book, 1);
    const slim = await slimPage({ book, pageNumber: 1, placements, ppi: PPI, limits: DEFAULT_LIMITS });
    const samples = 450 * 360 * 3;
    expect([slim.length > samples, slim.length < samples + 2000]).toEqual([true, true]);
  });

  it('leaves behind the pictures of other pages that a page has in its resources but does not draw', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 3, 75);
    const book = await openSample((objects) => {
      const image = () =>
        objects.stream(data, {
          ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
          ...{ Filter: 'DCTDecode', ColorSpace: 'DeviceRGB' },
        });
      const XObject = Object.fromEntries(Array.from({ length: 20 }, (_, at) => [`Photo${at}`, image()]));
      return [{ media: [0, 0, 216, 173], resources: { XObject }, content: '216 0 0 172.8 0 0 cm /Photo7 Do' }];
    });
    const placements = placementsOnPage(book, 1);
    const slim = await slimPage({ book, pageNumber: 1, placements, ppi: PPI, limits: DEFAULT_LIMITS });
    expect(slim.length < 450 * 360 * 3 + 5000).toBe(true);
  });

  it('leaves the open book as it was', async () => {
    const data = await photoJpeg(WIDTH, HEIGHT, 3);
    const book = await pageWith(() => ({ data, entries: { Filter: 'DCTDecode', ColorSpace: 'DeviceRGB' } }));
    const objects = () =>
      book.context.enumerateIndirectObjects().map(([ref, object]) => `${ref.toString()}: ${object.toString()}`);
    const before = objects();
    await drawPage({ book, pageNumber: 1, ppi: PPI, limits: DEFAULT_LIMITS });
    expect(objects()).toEqual(before);
  });

  it('refuses a picture that declares more pixels than the limits allow, naming the page', async () => {
    const book = await pageWith(() => ({
      data: deflateSync(Buffer.alloc(100)),
      entries: { Filter: 'FlateDecode', ColorSpace: 'DeviceGray', Width: 60_000, Height: 60_000 },
    }));
    expect(await refusalOf(drawPage({ book, pageNumber: 1, ppi: PPI, limits: DEFAULT_LIMITS }))).toEqual({
      kind: 'too-large',
      ...{ what: 'a picture', limit: 500e6, found: 3.6e9, unit: 'pixels', page: 1 },
    });
  });
});
