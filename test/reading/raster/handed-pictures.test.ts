import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { describe, expect, it, vi } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import type { Book } from '../../../src/reading/index.ts';
import { placementsOnPage } from '../../../src/reading/pdf/placements.ts';
import { HandedPictures } from '../../../src/reading/raster/handed-pictures.ts';
import { withDocument } from '../../../src/reading/raster/pdfjs.ts';
import { rasterFromPage } from '../../../src/reading/raster/raster-from-page.ts';
import { slimPage } from '../../../src/reading/raster/slim-page.ts';
import { averagedDown } from './averaged-down.ts';
import { jpegOf, pictureOf } from './jpeg/jpeg-files.ts';
import { rasterDifference } from './raster-difference.ts';
import { photoJpeg } from './sample-pictures.ts';
import { openSample } from './sample-file.ts';

const PPI = 100;
const [WIDTH, HEIGHT] = [600, 480];
/** Of the shrunk pictures: one and a half pixels for each one shown. */
const LEAST_SAMPLES = 150 * 120 * 3;
/** Of a page as a raster. */
const [ACROSS, DOWN] = [333, 264];
/** How much finer a page is drawn that is then averaged down. */
const FINER = 8;

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

function rasterOf(file: Uint8Array, finer: number, handed?: HandedPictures): Promise<PageRaster> {
  return withDocument(file, async (document) => {
    const first = await document.getPage(1);
    await handed?.giveTo(first);
    const part = { left: 0, top: 0, width: finer * ACROSS, height: finer * DOWN, ppi: finer * PPI };
    return rasterFromPage(first, part, () => undefined);
  });
}

async function drawn(book: Book, handed?: HandedPictures): Promise<{ raster: PageRaster; bytes: number }> {
  const placements = placementsOnPage(book, 1);
  const page = { book, pageNumber: 1, placements, ppi: PPI, limits: DEFAULT_LIMITS };
  const file = await slimPage(handed === undefined ? page : { ...page, handed });
  // beforehand: the renderer takes the file away
  const bytes = file.length;
  return { raster: await rasterOf(file, 1, handed), bytes };
}

const fromFullData = (book: Book, finer: number): Promise<PageRaster> =>
  rasterOf(new Uint8Array(readFileSync(book.path)), finer);

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
    const tokens = Array.from({ length: 20 }, () =>
      Buffer.from(new HandedPictures().take({ width: 1, height: 1, data: new Uint8Array(3) })),
    );
    expect(new Set(tokens.map((token) => token.toString('hex'))).size).toBe(20);
  });
});

/** Where a page's one picture lies, from the left and from below in points, off the grid of the page's pixels. */
const PLACE = [10.3, 8.7] as const;

/** A page with one picture in four inks, at 300 pixels an inch. */
function pageOfInks(data: Uint8Array, width: number, height: number, times = 1): Promise<Book> {
  return openSample((objects) => {
    const One = objects.stream(data, {
      ...{ Type: 'XObject', Subtype: 'Image', Width: width, Height: height, BitsPerComponent: 8 },
      ...{ Filter: 'DCTDecode', ColorSpace: 'DeviceCMYK', Decode: [1, 0, 1, 0, 1, 0, 1, 0] },
    });
    // side by side, just 100 pixels of the page from each other
    const [left, bottom] = PLACE;
    const content = Array.from({ length: times }, (_, at) => {
      return `q ${pointsOf(width)} 0 0 ${pointsOf(height)} ${left + 72 * at} ${bottom} cm /One Do Q`;
    });
    return [{ media: [0, 0, 240, 190], resources: { XObject: { One } }, content: content.join(' ') }];
  });
}

const pointsOf = (pixels: number): string => ((pixels * 72) / 300).toFixed(3);

describe('a picture in four inks that the renderer is given beside the file', () => {
  it.each([
    [601, 479],
    [601, 480],
    [600, 479],
    [600, 480],
  ])(
    'of %i by %i is nearer to a page averaged down from a much finer one than one drawn from its full data',
    async (width, height) => {
      const book = await pageOfInks(await photoJpeg(width, height, 4), width, height);
      const best = averagedDown(await fromFullData(book, FINER), FINER);
      const beside = rasterDifference((await drawn(book, new HandedPictures())).raster, best);
      const full = rasterDifference(await fromFullData(book, 1), best);
      expect({ isNearer: beside.mean < full.mean, beside, full }).toMatchObject({ isNearer: true });
    },
  );

  describe.each([
    [601, 479],
    [600, 480],
  ])('of %i by %i', (width, height) => {
    // The edge leans by a tenth: it meets the pixels of the page everywhere alike, where an upright one is seen up to a third of
    // one off by the renderer.
    it.each(['right', 'lower'] as const)(
      'has its edge where it is when drawn from full data, only its %s half black',
      async (half) => {
        const isBlack = (x: number, y: number): boolean => {
          const [along, beside] = [x + 0.5 - width / 2, y + 0.5 - height / 2];
          return half === 'right' ? along > beside / 10 : beside > along / 10;
        };
        const black = pictureOf(width, height, 4, (x, y, ink) => (ink === 3 && isBlack(x, y) ? 255 : 0));
        const book = await pageOfInks(await jpegOf(black, { quality: 100 }), width, height);
        const fromFull = [averagedDown(await fromFullData(book, FINER), FINER), await fromFullData(book, 1)];
        // in the file all of a picture's pixels are shown
        for (const { raster } of [await drawn(book, new HandedPictures()), await drawn(book)]) {
          const found = meanEdge(raster, half, width, height);
          const off = fromFull.map((full) => Math.abs(found - meanEdge(full, half, width, height)));
          expect({ isInPlace: Math.max(...off) <= 0.05, off }).toMatchObject({ isInPlace: true });
        }
      },
    );
  });

  it('is half of it, the last pixels of an odd one half outside', async () => {
    for (const [width, height] of [
      [601, 479],
      [600, 480],
    ] as const) {
      const handed = new HandedPictures();
      const take = vi.spyOn(handed, 'take');
      await drawn(await pageOfInks(await photoJpeg(width, height, 4), width, height), handed);
      const taken = take.mock.calls.map(([{ data, ...size }]) => ({ ...size, bytes: data.length }));
      const half = { width: Math.ceil(width / 2), height: Math.ceil(height / 2) };
      const shown = { width: width / 2, height: height / 2 };
      expect(taken).toEqual([{ ...half, shown, bytes: half.width * half.height * 4 }]);
    }
  });

  it.each([
    [201, 159],
    [200, 160],
  ])('of %i by %i appears as often as it is drawn', async (width, height) => {
    const book = await pageOfInks(await photoJpeg(width, height, 4), width, height, 3);
    const { raster } = await drawn(book, new HandedPictures());
    const left = Math.ceil((PLACE[0] * PPI) / 72);
    const parts = [0, 1, 2].map((time) => partOf(raster, left + 100 * time, Math.floor(width / 3) - 1));
    // a level: the renderer's places are numbers of 32 bits
    for (const part of parts.slice(1)) {
      const most = part.reduce((so, level, at) => Math.max(so, Math.abs(level - parts[0]![at]!)), 0);
      expect(most).toBeLessThanOrEqual(1);
    }
    const full = partOf(await fromFullData(book, 1), left, Math.floor(width / 3) - 1);
    const apart = full.reduce((sum, level, at) => sum + Math.abs(level - parts[0]![at]!), 0) / full.length;
    const blank = full.reduce((sum, level) => sum + 255 - level, 0) / full.length;
    expect({ isThere: apart < blank / 10, apart, blank }).toMatchObject({ isThere: true });
  });
});

/** All rows of some columns of a page. */
function partOf({ width, height, rgb }: PageRaster, left: number, columns: number): Buffer {
  return Buffer.concat(
    Array.from({ length: height }, (_, y) => rgb.subarray((y * width + left) * 3, (y * width + left + columns) * 3)),
  );
}

/** Where the edge between white and black lies in the mean along the picture's middle two thirds, in pixels of the page. */
function meanEdge({ width, rgb }: PageRaster, half: 'right' | 'lower', across: number, down: number): number {
  const [left, top] = [(PLACE[0] * PPI) / 72, DOWN - (PLACE[1] * PPI) / 72 - down / 3];
  const middle = [Math.round(left + across / 6), Math.round(top + down / 6)] as const;
  const [along, beside, reach] = half === 'right' ? [...middle, down / 3] : [middle[1], middle[0], across / 3];
  const [lines, window] = [Math.floor(reach / 3), 20];
  let sum = 0;
  for (let line = beside - lines; line < beside + lines; line++) {
    const levels = Array.from({ length: 2 * window }, (_, at) => {
      const place = along - window + at;
      return rgb[(half === 'right' ? line * width + place : place * width + line) * 3]!;
    });
    const [white, black] = [levels[0]!, levels.at(-1)!];
    sum += along - window + levels.reduce((whites, level) => whites + (level - black) / (white - black), 0);
  }
  return sum / (2 * lines);
}
