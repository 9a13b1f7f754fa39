import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import { drawPage, type Book } from '../../../src/reading/index.ts';
import { withDocument } from '../../../src/reading/raster/pdfjs.ts';
import { rasterFromPage } from '../../../src/reading/raster/raster-from-page.ts';
import { photoJpeg } from './sample-pictures.ts';
import { rasterDifference } from './raster-difference.ts';
import { openSample } from './sample-file.ts';

const PPI = 100;
const [WIDTH, HEIGHT] = [901, 719];
const [PAGE_WIDTH, PAGE_HEIGHT] = [288, 216];
/** How much finer a page is drawn that is then averaged down. */
const FINER = 8;
const JPEG: Partial<Record<1 | 3 | 4, Buffer>> = {};
const SPACES = { 1: 'DeviceGray', 3: 'DeviceRGB', 4: 'DeviceCMYK' } as const;

beforeAll(async () => {
  for (const channels of [1, 3, 4] as const) JPEG[channels] = await photoJpeg(WIDTH, HEIGHT, channels);
});

/** A page with one picture, placed at so many pixels an inch, off the grid of the page's pixels. */
function pageWith(channels: 1 | 3 | 4, ppi: number): Promise<Book> {
  return openSample((objects) => {
    const image = objects.stream(JPEG[channels]!, {
      ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
      ...{ Filter: 'DCTDecode', ColorSpace: SPACES[channels] },
    });
    const [width, height] = [WIDTH, HEIGHT].map((pixels) => ((pixels * 72) / ppi).toFixed(3));
    const content = `q ${width} 0 0 ${height} 10.3 8.7 cm /Photo Do Q`;
    return [{ media: [0, 0, PAGE_WIDTH, PAGE_HEIGHT], resources: { XObject: { Photo: image } }, content }];
  });
}

async function drawnFromFullData(book: Book, finer: number): Promise<PageRaster> {
  const file = new Uint8Array(readFileSync(book.path));
  const [width, height] = [PAGE_WIDTH, PAGE_HEIGHT].map((pt) => finer * Math.round((pt * PPI) / 72)) as [
    number,
    number,
  ];
  const part = { left: 0, top: 0, width, height, ppi: finer * PPI };
  return withDocument(file, async (document) => rasterFromPage(await document.getPage(1), part, () => undefined));
}

/** The mean of squares of pixels: what a page of this resolution can show at best. */
function averagedDown({ width: across, height: down, rgb: fine }: PageRaster, factor: number): PageRaster {
  const [width, height] = [across / factor, down / factor];
  const rgb = new Uint8Array(width * height * 3);
  for (let at = 0; at < rgb.length; at++) {
    const [channel, x, y] = [at % 3, Math.floor(at / 3) % width, Math.floor(at / 3 / width)];
    let sum = 0;
    for (let v = y * factor; v < (y + 1) * factor; v++) {
      for (let u = x * factor; u < (x + 1) * factor; u++) sum += fine[(v * across + u) * 3 + channel]!;
    }
    rgb[at] = Math.round(sum / factor ** 2);
  }
  return { width, height, ppi: PPI, rgb };
}

const ours = async (book: Book): Promise<PageRaster> =>
  (await drawPage({ book, pageNumber: 1, ppi: PPI, limits: DEFAULT_LIMITS })).raster;

describe('a JPEG that is shrunk before drawing', () => {
  it.each([250, 285, 300, 320, 350, 380, 450, 600])(
    'at %i pixels an inch is nearer to a page averaged down from a much finer one than a page drawn from its full data',
    async (ppi) => {
      for (const channels of [1, 3, 4] as const) {
        const book = await pageWith(channels, ppi);
        const best = averagedDown(await drawnFromFullData(book, FINER), FINER);
        const shrunk = rasterDifference(await ours(book), best).mean;
        const full = rasterDifference(await drawnFromFullData(book, 1), best).mean;
        expect({ isNearer: shrunk < full, channels, shrunk, full }).toMatchObject({ isNearer: true });
      }
    },
  );

  it.each([285, 300, 320, 350, 380])(
    'at %i pixels an inch, where just half is taken, looks like one drawn from its full data',
    async (ppi) => {
      for (const channels of [1, 3, 4] as const) {
        const book = await pageWith(channels, ppi);
        const { mean, most } = rasterDifference(await ours(book), await drawnFromFullData(book, 1));
        expect({ isAlike: mean <= 0.6 && most <= 10, channels, mean, most }).toMatchObject({ isAlike: true });
      }
    },
  );
});
