import { describe, expect, it } from 'vitest';
import { labFromSrgb } from '../../src/comparing/colour/lab.ts';
import { colourField, halveRaster } from '../../src/comparing/page-colours.ts';
import { preparePage } from '../../src/comparing/page-sides.ts';
import type { PageRaster } from '../../src/model/index.ts';
import { even, photograph } from './made-up-scenes.ts';
import { drawPage } from './sketched-page.ts';

const greyRaster = (width: number, levels: readonly number[]): PageRaster => ({
  width,
  height: levels.length / width,
  ppi: 100,
  rgb: Uint8Array.from(levels.flatMap((level) => [level, level, level])),
});

describe('a page at half its resolution', () => {
  it('holds the mean of two by two pixels, each colour for itself', () => {
    const rgb = Uint8Array.from([10, 0, 200, 20, 0, 200, 30, 100, 200, 40, 100, 204]);
    expect(halveRaster({ width: 2, height: 2, ppi: 100, rgb })).toEqual({
      width: 1,
      height: 1,
      ppi: 50,
      rgb: Uint8Array.from([25, 50, 201]),
    });
  });

  it('drops an odd last column and row', () => {
    const halved = halveRaster(greyRaster(3, [10, 20, 250, 30, 40, 250, 250, 250, 250]));
    expect(halved).toEqual({ ...greyRaster(1, [25]), ppi: 50 });
  });

  it('of a single pixel is that pixel', () => {
    expect(halveRaster(greyRaster(1, [93]))).toEqual({ ...greyRaster(1, [93]), ppi: 50 });
  });
});

describe('the colours of a part of a page', () => {
  it('are those of the page where it is even, and know where they lie', () => {
    const raster = drawPage({
      artwork: [{ box: { x: 0, y: 0, width: 64, height: 50 }, scene: even(200, 80, 40) }],
    }).raster;
    const field = colourField(raster, { left: 20, top: 30, width: 2, height: 3 });
    const { lab, ...place } = field;
    expect(place).toEqual({ left: 20, top: 30, width: 2, height: 3, ppi: 100 });
    const { l, a, b } = labFromSrgb(200, 80, 40);
    expect(lab).toHaveLength(18);
    [...lab].forEach((value, at) => expect(value).toBeCloseTo([l, a, b][at % 3]!, 2));
  });

  it('spread a single pixel of noise over its neighbours, so that alone it hardly speaks', () => {
    const levels = new Array<number>(25).fill(100);
    levels[12] = 196;
    const { lab } = colourField(greyRaster(5, levels), { left: 0, top: 0, width: 5, height: 5 });
    const lightness = (level: number) => labFromSrgb(level, level, level).l;
    // 1 2 1 each way: a quarter of it stays, an eighth goes to each side, a sixteenth to each corner.
    const around = [124, 112, 112, 112, 112, 106, 106, 106, 106].map(lightness);
    const seen = [12, 7, 11, 13, 17, 6, 8, 16, 18].map((cell) => lab[cell * 3]!);
    seen.forEach((value, at) => expect(value).toBeCloseTo(around[at]!, 2));
  });
});

describe('one side of a comparison', () => {
  it('has the pictures that a reader sees, and the page at half its resolution, drawn once', () => {
    const picture = { window: { x: 10, y: 10, width: 30, height: 20 }, scene: photograph(1) };
    const ornament = { window: { x: 50, y: 10, width: 3, height: 3 }, scene: photograph(2) };
    const page = drawPage({ pictures: [picture, ornament] });
    const side = preparePage(page);
    expect(side.pictures.map(({ window }) => window)).toEqual([picture.window]);
    expect(side.half()).toEqual(halveRaster(page.raster));
    expect(side.half()).toBe(side.half());
  });
});
