import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import { drawPage, type Book } from '../../../src/reading/index.ts';
import { withDocument } from '../../../src/reading/raster/pdfjs.ts';
import { rasterFromPage } from '../../../src/reading/raster/raster-from-page.ts';
import { averagedDown } from './averaged-down.ts';
import { photoJpeg } from './sample-pictures.ts';
import { rasterDifference } from './raster-difference.ts';
import { openSample } from './sample-file.ts';

const PPI = 100;
/** Odd and even: of an odd picture the last pixels of half of it lie half outside. */
const SIZES = { odd: [901, 719], even: [900, 720] } as const;
type Evenness = keyof typeof SIZES;
type Channels = 1 | 3 | 4;
const [PAGE_WIDTH, PAGE_HEIGHT] = [288, 216];
/** How much finer a page is drawn that is then averaged down. */
const FINER = 8;
const JPEG: Partial<Record<`${Evenness} ${Channels}`, Buffer>> = {};
const SPACES = { 1: 'DeviceGray', 3: 'DeviceRGB', 4: 'DeviceCMYK' } as const;

beforeAll(async () => {
  for (const evenness of ['odd', 'even'] as const) {
    for (const channels of [1, 3, 4] as const) {
      const [width, height] = SIZES[evenness];
      JPEG[`${evenness} ${channels}`] = await photoJpeg(width, height, channels);
    }
  }
});

/** A page with one picture, placed at so many pixels an inch, off the grid of the page's pixels. */
function pageWith(evenness: Evenness, channels: Channels, ppi: number): Promise<Book> {
  const size = SIZES[evenness];
  return openSample((objects) => {
    const image = objects.stream(JPEG[`${evenness} ${channels}`]!, {
      ...{ Type: 'XObject', Subtype: 'Image', Width: size[0], Height: size[1], BitsPerComponent: 8 },
      ...{ Filter: 'DCTDecode', ColorSpace: SPACES[channels] },
    });
    const [width, height] = size.map((pixels) => ((pixels * 72) / ppi).toFixed(3));
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

const ours = async (book: Book): Promise<PageRaster> =>
  (await drawPage({ book, pageNumber: 1, ppi: PPI, limits: DEFAULT_LIMITS })).raster;

describe('a JPEG that is shrunk before drawing', () => {
  describe.each(['even', 'odd'] as const)('of a size that is %s', (evenness) => {
    it.each([250, 285, 300, 320, 350, 380, 450, 600])(
      'at %i pixels an inch is nearer to a page averaged down from a much finer one than a page drawn from its full data',
      async (ppi) => {
        for (const channels of [1, 3, 4] as const) {
          const book = await pageWith(evenness, channels, ppi);
          const best = averagedDown(await drawnFromFullData(book, FINER), FINER);
          const shrunk = rasterDifference(await ours(book), best).mean;
          const full = rasterDifference(await drawnFromFullData(book, 1), best).mean;
          expect({ isNearer: shrunk < full, channels, shrunk, full }).toMatchObject({ isNearer: true });
        }
      },
    );
  });

  // An odd one does not: the renderer makes whole pixels of its half, which are not the means of two samples each.
  it.each([285, 300, 320, 350, 380])(
    'at %i pixels an inch, where just half of an even one is taken, looks like one drawn from its full data',
    async (ppi) => {
      for (const channels of [1, 3, 4] as const) {
        const book = await pageWith('even', channels, ppi);
        const { mean, most } = rasterDifference(await ours(book), await drawnFromFullData(book, 1));
        expect({ isAlike: mean <= 0.6 && most <= 10, channels, mean, most }).toMatchObject({ isAlike: true });
      }
    },
  );
});
