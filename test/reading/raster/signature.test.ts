import { describe, expect, it } from 'vitest';
import type { PageRaster } from '../../../src/model/index.ts';
import { isBlank, pageSignature } from '../../../src/reading/index.ts';

/** @param colour  of a pixel, by its place */
function raster(width: number, height: number, colour: (x: number, y: number) => readonly number[]): PageRaster {
  const rgb = Uint8Array.from(
    Array.from({ length: width * height }, (_, at) => colour(at % width, Math.floor(at / width))).flat(),
  );
  return { width, height, ppi: 100, rgb };
}

const WHITE = [255, 255, 255];

describe('the signature of a page', () => {
  it('holds the average colour of each of its 32 x 32 cells, row by row from the top left', () => {
    const page = raster(64, 96, (x, y) => (x < 2 && y < 3 ? (x === 0 ? [0, 100, 200] : [10, 101, 100]) : WHITE));
    const { cells } = pageSignature(page);
    expect([cells.length, ...cells.subarray(0, 6)]).toEqual([32 * 32 * 3, 5, 101, 150, 255, 255, 255]);
    expect([...cells.subarray(32 * 3)].every((level) => level === 255)).toBe(true);
  });

  it('is the same average on a page whose cells are hundreds of pixels high, or wider than a run of them', () => {
    for (const [width, height] of [
      [33, 32 * 300],
      [32 * 150, 34],
    ] as const) {
      const page = raster(width, height, (x, y) => [(x * 3 + y) % 256, 255, (x * y) % 256]);
      const { cells } = pageSignature(page);
      const edge = (cell: number, pixels: number): number => Math.floor((cell * pixels) / 32);
      for (const [column, row] of [
        [0, 0],
        [17, 20],
        [31, 31],
      ] as const) {
        const sums = [0, 0, 0];
        let pixels = 0;
        for (let y = edge(row, height); y < edge(row + 1, height); y++) {
          for (let x = edge(column, width); x < edge(column + 1, width); x++, pixels++) {
            for (let channel = 0; channel < 3; channel++) sums[channel]! += page.rgb[(y * width + x) * 3 + channel]!;
          }
        }
        const at = (row * 32 + column) * 3;
        expect([...cells.subarray(at, at + 3)]).toEqual(sums.map((sum) => Math.round(sum / pixels)));
      }
    }
  });

  it('is made of pages smaller than its cells too', () => {
    const { cells } = pageSignature(raster(1, 2, (_, y) => (y === 0 ? [1, 2, 3] : [4, 5, 6])));
    expect([...cells.subarray(0, 3), ...cells.subarray(-3)]).toEqual([1, 2, 3, 4, 5, 6]);
  });
});

describe('a page is blank', () => {
  it('when it is white paper, with the noise of a coded picture of nothing', () => {
    const noisy = raster(300, 400, (x, y) => WHITE.map((level) => level - ((x * 7 + y * 13) % 6)));
    expect([isBlank(raster(300, 400, () => WHITE)), isBlank(noisy)]).toEqual([true, true]);
  });

  it('not when a single character stands on it', () => {
    const page = raster(300, 400, (x, y) => (x > 100 && x < 104 && y > 200 && y < 208 ? [40, 40, 40] : WHITE));
    expect(isBlank(page)).toBe(false);
  });

  it('not when it is black, or tinted by a few hundredths', () => {
    expect([isBlank(raster(30, 40, () => [0, 0, 0])), isBlank(raster(30, 40, () => [255, 250, 240]))]).toEqual([
      false,
      false,
    ]);
  });
});
