import { describe, expect, it } from 'vitest';
import type { Plane } from '../../src/comparing/plane.ts';
import { clipPixelBox, halvePlane, lumaPlane, smoothPlane } from '../../src/comparing/plane.ts';
import type { PageRaster } from '../../src/model/index.ts';

const planeOf = (width: number, values: readonly number[], left = 0, top = 0): Plane => ({
  left,
  top,
  width,
  height: values.length / width,
  data: Float32Array.from(values),
});

describe('the grey of a part of the page', () => {
  it('is 0 for black, 255 for paper, and counts green for more than red, red for more than blue', () => {
    const rgb = Uint8Array.from([0, 0, 0, 255, 255, 255, 255, 0, 0, 0, 255, 0, 0, 0, 255]);
    const raster: PageRaster = { width: 5, height: 1, ppi: 100, rgb };
    const { data } = lumaPlane(raster, { left: 0, top: 0, width: 5, height: 1 });
    // ITU-R BT.709: 0.2126 red, 0.7152 green, 0.0722 blue.
    const expected = [0, 255, 0.2126 * 255, 0.7152 * 255, 0.0722 * 255];
    expect([...data].map((value) => Number(value.toFixed(3)))).toEqual(
      expected.map((value) => Number(value.toFixed(3))),
    );
  });

  it('remembers where on the page it was taken from', () => {
    const raster: PageRaster = {
      width: 3,
      height: 3,
      ppi: 100,
      rgb: Uint8Array.from({ length: 27 }, (_, at) => 10 * Math.floor(at / 3)),
    };
    const part = lumaPlane(raster, { left: 1, top: 1, width: 2, height: 2 });
    expect(part).toEqual(planeOf(2, [40, 50, 70, 80], 1, 1));
  });

  it('is taken of no more than the page has', () => {
    const raster: PageRaster = { width: 2, height: 2, ppi: 100, rgb: new Uint8Array(12).fill(255) };
    const part = lumaPlane(raster, { left: -5, top: 1, width: 50, height: 50 });
    expect(part).toEqual(planeOf(2, [255, 255], 0, 1));
  });
});

describe('a rectangle of pixels', () => {
  const page = { width: 20, height: 10 };
  it.each([
    ['that lies on the page stays as it is', [3, 2, 5, 4], [3, 2, 5, 4]],
    ['that hangs over the left and upper edge is cut there', [-3, -2, 5, 4], [0, 0, 2, 2]],
    ['that hangs over the right and lower edge is cut there', [18, 8, 5, 5], [18, 8, 2, 2]],
    ['that lies off the page altogether leaves one pixel of its edge', [40, -20, 5, 5], [19, 0, 1, 1]],
    ['of no size leaves one pixel', [4, 4, 0, -3], [4, 4, 1, 1]],
  ] as const)('%s', (_, [left, top, width, height], expected) => {
    const box = clipPixelBox({ left, top, width, height }, page);
    expect([box.left, box.top, box.width, box.height]).toEqual(expected);
  });
});

describe('a plane at half the size', () => {
  it('holds the mean of every two by two pixels', () => {
    expect(halvePlane(planeOf(4, [0, 4, 10, 10, 8, 4, 30, 10]))).toEqual(planeOf(2, [4, 15]));
  });

  it('counts its place in its own, larger pixels', () => {
    expect(halvePlane(planeOf(2, [1, 1, 1, 1], 7, 10))).toEqual(planeOf(1, [1], 3.5, 5));
  });

  it('drops an odd last column and row', () => {
    expect(halvePlane(planeOf(3, [0, 4, 99, 8, 4, 99, 99, 99, 99]))).toEqual(planeOf(1, [4]));
  });

  it('of a single row is the mean of neighbours in it', () => {
    expect(halvePlane(planeOf(4, [0, 10, 20, 40]))).toEqual(planeOf(2, [5, 30]));
    expect(halvePlane(planeOf(1, [7]))).toEqual(planeOf(1, [7]));
  });
});

describe('a smoothed plane', () => {
  it('spreads one pixel as 1 4 6 4 1 each way', () => {
    const dot = Array.from({ length: 81 }, (_, at) => (at === 40 ? 256 : 0));
    const { data } = smoothPlane(planeOf(9, dot));
    const row = (y: number) => [...data.subarray(y * 9 + 2, y * 9 + 7)];
    expect([2, 3, 4, 5, 6].map(row)).toEqual(
      [1, 4, 6, 4, 1].map((down) => [1, 4, 6, 4, 1].map((across) => down * across)),
    );
    expect(row(1)).toEqual([0, 0, 0, 0, 0]);
  });

  it('keeps an even tone, to its very corners', () => {
    expect([...smoothPlane(planeOf(4, new Array<number>(12).fill(77))).data]).toEqual(new Array<number>(12).fill(77));
  });
});
