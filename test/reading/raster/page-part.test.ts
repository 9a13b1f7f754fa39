import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { DEFAULT_LIMITS, type PageRaster } from '../../../src/model/index.ts';
import { drawPage, openBook, type Book, type RasterPart } from '../../../src/reading/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { writeBook, type SmallPage } from '../../archive/small-book.ts';
import { rasterDifference } from './raster-difference.ts';

const SIDE = 8;
/** Of a pixel of the picture: 2.54 mm, so that it falls on whole pixels at 1200 ppi. */
const PIXEL_MM = 2.54;
const PIXEL_PX = 120;
const BOX = { x: 25.4, y: 50.8, width: SIDE * PIXEL_MM, height: SIDE * PIXEL_MM };

/** Every pixel has a colour of its own, far from its neighbours'. */
const colourOf = (x: number, y: number): readonly [number, number, number] => [
  (x + y) % 2 === 0 ? 20 : 220,
  x * 30,
  y * 30,
];

async function open(pages: readonly SmallPage[]): Promise<Book> {
  return openBook(await writeBook(join(scratchFolder(), 'book.pdf'), pages), DEFAULT_LIMITS);
}

async function draw(book: Book, ppi: number, part?: RasterPart): Promise<PageRaster> {
  const request = { book, pageNumber: 1, ppi, limits: DEFAULT_LIMITS };
  return (await drawPage(part === undefined ? request : { ...request, part })).raster;
}

it('a part of a page is that part of the whole', async () => {
  const book = await open([{ lines: ['A Winter’s Round', 'and what was told of it'], tint: '#3366aa' }]);
  const [whole, part] = [await draw(book, 200), { left: 130, top: 100, width: 300, height: 450 }];
  const drawn = await draw(book, 200, part);
  const cut = await sharp(whole.rgb, { raw: { width: whole.width, height: whole.height, channels: 3 } })
    .extract(part)
    .raw()
    .toBuffer();
  expect([drawn.width, drawn.height]).toEqual([300, 450]);
  // Edges of type fall a few levels otherwise where the canvas begins elsewhere; a pixel's shift is a hundred times that.
  const { mean, most } = rasterDifference({ ...drawn, rgb: cut }, drawn);
  expect([mean < 0.01, most < 10, mean, most]).toEqual([true, true, mean, most]);
  const shifted = await draw(book, 200, { ...part, left: part.left + 1 });
  expect(rasterDifference({ ...drawn, rgb: cut }, shifted).mean).toBeGreaterThan(0.1);
  expect(new Set(cut).size).toBeGreaterThan(10);
});

it('in a part that is drawn from near each pixel of a picture is a block of its own colour; in the whole it is smooth', async () => {
  const pixels = Buffer.from(
    Array.from({ length: SIDE * SIDE }, (_, at) => colourOf(at % SIDE, Math.floor(at / SIDE))).flat(),
  );
  const bytes = await sharp(pixels, { raw: { width: SIDE, height: SIDE, channels: 3 } })
    .png()
    .toBuffer();
  const book = await open([{ picture: { bytes, window: BOX, placed: BOX } }]);
  const part = { left: 1200, top: 2400, width: SIDE * PIXEL_PX, height: SIDE * PIXEL_PX };
  const near = await draw(book, 1200, part);
  const at = ({ rgb, width }: PageRaster, x: number, y: number) => [
    ...rgb.subarray((y * width + x) * 3).subarray(0, 3),
  ];
  for (let pixel = 0; pixel < SIDE * SIDE; pixel++) {
    const [column, row] = [pixel % SIDE, Math.floor(pixel / SIDE)];
    // near each corner of its block and in its middle
    for (const [dx, dy] of [
      [3, 3],
      [PIXEL_PX - 4, PIXEL_PX - 4],
      [PIXEL_PX / 2, PIXEL_PX / 2],
    ] as const) {
      const found = at(near, column * PIXEL_PX + dx, row * PIXEL_PX + dy);
      expect([column, row, found]).toEqual([column, row, colourOf(column, row)]);
    }
  }
  const whole = await draw(book, 300);
  expect(at(whole, 300 + PIXEL_PX / 4 - 1, 600 + PIXEL_PX / 8)).not.toEqual(colourOf(0, 0));
});
