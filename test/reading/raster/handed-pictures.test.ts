import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import type { Book } from '../../../src/reading/index.ts';
import { placementsOnPage } from '../../../src/reading/pdf/placements.ts';
import { HandedPictures } from '../../../src/reading/raster/handed-pictures.ts';
import { withDocument } from '../../../src/reading/raster/pdfjs.ts';
import { rasterFromPage } from '../../../src/reading/raster/raster-from-page.ts';
import { slimPage } from '../../../src/reading/raster/slim-page.ts';
import { photoJpeg } from './sample-pictures.ts';
import { openSample } from './sample-file.ts';

const PPI = 100;
const [WIDTH, HEIGHT] = [600, 480];
/** Of the shrunk pictures: one and a half pixels for each one shown. */
const LEAST_SAMPLES = 150 * 120 * 3;

/** A page with two pictures beside each other, the second with `entries` of its own. */
async function pageOf(channels: 3 | 4, entries: Readonly<Record<string, unknown>> = {}, masked = false): Promise<Book> {
  const data = await photoJpeg(WIDTH, HEIGHT, channels);
  return openSample((objects) => {
    const mask = objects.stream(deflateSync(Buffer.alloc(WIDTH * HEIGHT, 128)), {
      ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
      ...{ ColorSpace: 'DeviceGray', Filter: 'FlateDecode' },
    });
    const picture = (more: Readonly<Record<string, unknown>>) =>
      objects.stream(data, {
        ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
        ...{ Filter: 'DCTDecode', ColorSpace: channels === 4 ? 'DeviceCMYK' : 'DeviceRGB', ...more },
      });
    const XObject = { One: picture({}), Other: picture(masked ? { ...entries, SMask: mask } : entries) };
    // the first one is drawn twice
    const content = '100 0 0 80 5 5 cm /One Do 1 0 0 1 1.2 0 cm /Other Do 0.3 0 0 0.3 0 1.2 cm /One Do';
    return [{ media: [0, 0, 240, 190], resources: { XObject }, content }];
  });
}

async function drawn(book: Book, handed?: HandedPictures): Promise<{ raster: PageRaster; bytes: number }> {
  const placements = placementsOnPage(book, 1);
  const page = { book, pageNumber: 1, placements, ppi: PPI, limits: DEFAULT_LIMITS };
  const file = await slimPage(handed === undefined ? page : { ...page, handed });
  const bytes = file.length;
  const raster = await withDocument(file, async (document) => {
    const first = await document.getPage(1);
    await handed?.giveTo(first);
    return rasterFromPage(first, { left: 0, top: 0, width: 333, height: 264, ppi: PPI }, () => undefined);
  });
  return { raster, bytes };
}

describe('pictures that the renderer is given beside the file', () => {
  it.each([
    ['in RGB', 3],
    ['in four inks', 4],
  ] as const)('%s are drawn as if they stood in it', async (_, channels) => {
    const book = await pageOf(channels);
    const [within, beside] = [await drawn(book), await drawn(book, new HandedPictures())];
    expect(beside.raster).toEqual(within.raster);
    expect(within.bytes - beside.bytes).toBeGreaterThan(2 * LEAST_SAMPLES);
  });

  it('are only those that nothing masks, and whose colours are taken as they are', async () => {
    const calibrated = { ColorSpace: ['CalRGB', { WhitePoint: [0.95, 1, 1.09], Gamma: [1.8, 1.8, 1.8] }] };
    for (const book of [await pageOf(3, {}, true), await pageOf(3, calibrated)]) {
      const [within, beside] = [await drawn(book), await drawn(book, new HandedPictures())];
      expect(beside.raster).toEqual(within.raster);
      // the first one is, the other is not
      const less = within.bytes - beside.bytes;
      expect(less).toBeGreaterThan(LEAST_SAMPLES);
      expect(within.bytes - less).toBeGreaterThan(LEAST_SAMPLES);
    }
  });

  it('have a token that is another for each page, so no file can ask for the picture of another', () => {
    const tokens = Array.from({ length: 20 }, () => Buffer.from(new HandedPictures().take({ width: 1, height: 1, data: new Uint8Array(3) })));
    expect(new Set(tokens.map((token) => token.toString('hex'))).size).toBe(20);
  });
});
