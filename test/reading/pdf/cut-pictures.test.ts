import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { mmFromPt } from '../../../src/model/index.ts';
import type { PlacedPicture } from '../../../src/model/index.ts';
import { describePictures } from '../../../src/reading/pdf/pictures.ts';
import { bookOf, drawing, greyImage } from './hand-pdf.ts';
import type { HandObjects } from './hand-pdf.ts';

/** A piece of a picture: its pixels, and where it is drawn in points from the lower left. */
interface Piece {
  readonly pixels: readonly [width: number, height: number];
  readonly box: readonly [x: number, y: number, width: number, height: number];
}

async function read(pieces: readonly Piece[], between = ''): Promise<readonly PlacedPicture[]> {
  const objects: Record<number, Buffer> = {};
  const names: string[] = [];
  const content = pieces.map(({ pixels, box: [x, y, width, height] }, index) => {
    objects[10 + index] = greyImage(...pixels, index);
    names.push(`/I${index} ${10 + index} 0 R`);
    return `q ${width} 0 0 ${height} ${x} ${y} cm /I${index} Do Q`;
  });
  const file = drawing(content.join(` ${between} `), `/XObject<<${names.join('')}>>`, objects satisfies HandObjects);
  return describePictures(await bookOf(file), 1);
}

const summary = (pictures: readonly PlacedPicture[]): unknown =>
  pictures.map(({ pieces, pixelWidth, pixelHeight }) => [pieces, pixelWidth, pixelHeight]);

/** Strips of 100 x 10 pixels, from the top of a picture that is 100 points wide. */
const strips = (heights: readonly number[]): readonly Piece[] => {
  let top = 150;
  return heights.map((height) => {
    top -= height;
    return { pixels: [100, height], box: [20, top, 100, height] };
  });
};

describe('a picture cut into strips is one picture', () => {
  it('with its pixels, matrix, window and resolution as a whole', async () => {
    const pictures = await read(strips([10, 10, 10, 5]));
    expect(pictures).toHaveLength(1);
    const [whole] = pictures;
    expect(summary(pictures)).toEqual([[4, 100, 35]]);
    const rounded = (values: readonly number[]): number[] => values.map((value) => Number(value.toFixed(6)) + 0);
    expect(rounded(whole!.matrix)).toEqual(
      rounded([mmFromPt(100), 0, 0, mmFromPt(35), mmFromPt(20), mmFromPt(200 - 150)]),
    );
    expect(rounded(Object.values(whole!.window))).toEqual(
      rounded([mmFromPt(20), mmFromPt(50), mmFromPt(100), mmFromPt(35)]),
    );
    expect(whole!.window).toEqual(whole!.placed);
    expect(whole!.effectivePpi).toBeCloseTo(72, 6);
    const piece = (value: number, height: number): Buffer =>
      createHash('sha256')
        .update(Buffer.alloc(100 * height, value))
        .digest();
    const joined = Buffer.concat([piece(0, 10), piece(1, 10), piece(2, 10), piece(3, 5)]);
    expect(whole!.samplesHash).toBe(createHash('sha256').update(joined).digest('hex'));
  });

  it('whichever end is drawn first, with the same hash', async () => {
    const down = await read(strips([10, 10, 10]));
    const up = await read([...strips([10, 10, 10])].reverse());
    expect(summary(up)).toEqual([[3, 100, 30]]);
    // Each strip's samples are its place in drawing order, so the hashes are of 0 1 2 and of 2 1 0.
    const piece = (value: number): Buffer => createHash('sha256').update(Buffer.alloc(1000, value)).digest();
    const hash = (order: readonly number[]): string =>
      createHash('sha256')
        .update(Buffer.concat(order.map(piece)))
        .digest('hex');
    expect([down[0]!.samplesHash, up[0]!.samplesHash]).toEqual([hash([0, 1, 2]), hash([2, 1, 0])]);
  });

  it('standing upright, side by side', async () => {
    const upright = [0, 1, 2, 3].map((index): Piece => ({ pixels: [10, 100], box: [20 + 10 * index, 20, 10, 100] }));
    expect(summary(await read(upright))).toEqual([[4, 40, 100]]);
  });

  it('or in tiles with a rest', async () => {
    const tiles = [0, 1].flatMap((row) =>
      [0, 1, 2].map((column): Piece => {
        const width = column === 2 ? 12 : 32;
        const height = row === 1 ? 20 : 32;
        return { pixels: [width, height], box: [20 + 32 * column, row === 1 ? 80 : 100, width, height] };
      }),
    );
    expect(summary(await read(tiles))).toEqual([[6, 76, 52]]);
  });

  it('where the edges gape by less than a tenth of a millimetre', async () => {
    const [first, second, third] = strips([10, 10, 10]);
    const gaping: Piece = { pixels: second!.pixels, box: [20, 130 - 0.2, 100, 10] };
    const open: Piece = { pixels: second!.pixels, box: [20, 130 - 0.6, 100, 10] };
    expect(summary(await read([first!, gaping, { ...third!, box: [20, 120 - 0.2, 100, 10] }]))).toEqual([[3, 100, 30]]);
    expect(summary(await read([first!, open]))).toEqual([
      [1, 100, 10],
      [1, 100, 10],
    ]);
  });

  it('and two pictures of strips, one after the other, are two', async () => {
    const one = strips([10, 10, 4]);
    const other = strips([10, 10, 4]).map(({ pixels, box: [x, y, w, h] }): Piece => ({
      pixels,
      box: [x + 20, y - 60, w, h],
    }));
    expect(summary(await read([...one, ...other]))).toEqual([
      [3, 100, 24],
      [3, 100, 24],
    ]);
  });
});

describe('photographs hung edge to edge stay apart', () => {
  const pair: readonly Piece[] = [
    { pixels: [60, 40], box: [20, 20, 60, 40] },
    { pixels: [60, 40], box: [80, 20, 60, 40] },
  ];
  const apart = [
    [1, 60, 40],
    [1, 60, 40],
  ];

  it('two of ordinary proportions', async () => expect(summary(await read(pair))).toEqual(apart));

  it('nine in a square', async () => {
    const nine = [0, 1, 2].flatMap((row) =>
      [0, 1, 2].map((column): Piece => ({ pixels: [30, 30], box: [20 + 30 * column, 110 - 30 * row, 30, 30] })),
    );
    expect(await read(nine)).toHaveLength(9);
  });

  it('a background that repeats one image', async () => {
    const content = [0, 1, 2].map((row) => `q 100 0 0 10 20 ${20 + 10 * row} cm /A Do Q`).join(' ');
    const file = drawing(content, '/XObject<</A 10 0 R>>', { 10: greyImage(100, 10) });
    expect(describePictures(await bookOf(file), 1)).toHaveLength(3);
  });

  it('of different resolution', async () => {
    const [first] = strips([10]);
    expect(await read([first!, { pixels: [200, 20], box: [20, 130, 100, 10] }])).toHaveLength(2);
  });

  it('strips with something painted between', async () => {
    expect(await read(strips([10, 10, 10]), '0 0 5 5 re f')).toHaveLength(3);
  });

  it('strips each in a frame of its own', async () => {
    const file = drawing(
      'q 0 100 100 10 re W n 100 0 0 10 0 100 cm /A Do Q q 0 90 100 10 re W n 100 0 0 10 0 90 cm /B Do Q',
      '/XObject<</A 10 0 R/B 11 0 R>>',
      { 10: greyImage(100, 10, 1), 11: greyImage(100, 10, 2) },
    );
    expect(describePictures(await bookOf(file), 1)).toHaveLength(2);
  });
});

describe('a picture', () => {
  it('of which nothing shows is left out, and the others are counted from 0', async () => {
    const pictures = await read([
      { pixels: [5, 5], box: [500, 500, 50, 50] },
      { pixels: [6, 6], box: [0, 0, 60, 50] },
    ]);
    expect(pictures.map(({ index, pixelWidth }) => [index, pixelWidth])).toEqual([[0, 6]]);
  });

  it('bleeds where its window reaches over the trim', async () => {
    const at = (x: number): readonly Piece[] => [{ pixels: [5, 5], box: [x, 20, 50, 50] }];
    expect((await read(at(-10)))[0]!.bleeds).toBe(false);
    const file = (x: number): Buffer =>
      Buffer.from(
        drawing(`q 50 0 0 50 ${x} 60 cm /A Do Q`, '/XObject<</A 10 0 R>>', { 10: greyImage(4, 4) })
          .toString('latin1')
          .replace('/MediaBox', '/TrimBox[20 20 180 180]/MediaBox'),
        'latin1',
      );
    const bleeds = async (x: number): Promise<boolean> => describePictures(await bookOf(file(x)), 1)[0]!.bleeds;
    expect(await Promise.all([19, 20, 129, 131].map(bleeds))).toEqual([true, false, false, true]);
  });

  it('has the resolution of its coarser axis, through every matrix', async () => {
    const file = drawing('q 0 2 -2 0 100 0 cm 30 0 0 20 0 0 cm /A Do Q', '/XObject<</A 10 0 R>>', {
      10: greyImage(300, 100),
    });
    // 300 pixels on 60 points, 100 pixels on 40 points.
    expect(describePictures(await bookOf(file), 1)[0]!.effectivePpi).toBeCloseTo((100 * 72) / 40, 9);
  });
});
