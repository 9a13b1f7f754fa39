import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { drawPage } from '../../../src/reading/index.ts';
import { group4, halves, HEIGHT, jbig2, JPX, WIDTH } from './coded-pictures.ts';
import { openSample, type SampleObjects } from './sample-file.ts';

type Picture = (objects: SampleObjects) => { data: Uint8Array; entries: Readonly<Record<string, unknown>> };

/** Colours in the middle of the left and the right half of a page filled by the picture. */
async function drawn(picture: Picture): Promise<readonly (readonly number[])[]> {
  const book = await openSample((objects) => {
    const { data, entries } = picture(objects);
    const image = objects.stream(data, {
      ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
      ...entries,
    });
    return [
      { media: [0, 0, 72, 48], resources: { XObject: { Picture: image } }, content: '72 0 0 48 0 0 cm /Picture Do' },
    ];
  });
  const { raster } = await drawPage({ book, pageNumber: 1, ppi: 100, limits: DEFAULT_LIMITS });
  const at = (x: number) => [...raster.rgb.subarray((33 * raster.width + x) * 3, (33 * raster.width + x) * 3 + 3)];
  return [at(25), at(75)];
}

const BLACK_AND_WHITE = [
  [0, 0, 0],
  [255, 255, 255],
];

const near = (found: readonly (readonly number[])[], expected: readonly (readonly number[])[], levels: number) =>
  found.flat().every((level, at) => Math.abs(level - (expected.flat()[at] ?? NaN)) <= levels) ? expected : found;

describe('pictures that are drawn from their full data:', () => {
  it('JPEG 2000', async () => {
    const found = await drawn(() => ({
      data: Buffer.from(JPX, 'base64'),
      entries: { Filter: 'JPXDecode', ColorSpace: 'DeviceRGB' },
    }));
    const expected = [
      [60, 128, 195],
      [180, 128, 75],
    ];
    expect(near(found, expected, 12)).toEqual(expected);
  });

  it('CCITT group 4', async () => {
    const data = group4();
    const parms = { K: -1, Columns: WIDTH, Rows: HEIGHT, BlackIs1: false };
    const entries = { Filter: 'CCITTFaxDecode', ColorSpace: 'DeviceGray', BitsPerComponent: 1, DecodeParms: parms };
    expect(await drawn(() => ({ data, entries }))).toEqual(BLACK_AND_WHITE);
  });

  it('JBIG2', async () => {
    const data = jbig2(group4());
    const entries = { Filter: 'JBIG2Decode', ColorSpace: 'DeviceGray', BitsPerComponent: 1 };
    expect(await drawn(() => ({ data, entries }))).toEqual(BLACK_AND_WHITE);
  });

  it('an indexed one', async () => {
    const data = deflateSync(halves.map((level) => (level === 0 ? 0 : 1)));
    const found = await drawn((objects) => ({
      data,
      entries: {
        Filter: 'FlateDecode',
        ColorSpace: ['Indexed', 'DeviceRGB', 1, objects.stream(Uint8Array.of(1, 2, 3, 200, 100, 50))],
      },
    }));
    expect(found).toEqual([
      [1, 2, 3],
      [200, 100, 50],
    ]);
  });

  it('one of 16 bits', async () => {
    const data = deflateSync(Uint8Array.from([...halves].flatMap((level) => [level, level])));
    const entries = { Filter: 'FlateDecode', ColorSpace: 'DeviceGray', BitsPerComponent: 16 };
    expect(await drawn(() => ({ data, entries }))).toEqual(BLACK_AND_WHITE);
  });

  it('one in two spot colours (DeviceN)', async () => {
    // No ink left, full ink of the first right: the tint turns the first ink into red.
    const data = deflateSync(Uint8Array.from([...halves].flatMap((level) => [level, 0])));
    const found = await drawn((objects) => {
      const tint = objects.stream('{ pop 1 exch dup 1 exch sub exch 1 exch sub }', {
        ...{ FunctionType: 4, Domain: [0, 1, 0, 1], Range: [0, 1, 0, 1, 0, 1] },
      });
      return { data, entries: { Filter: 'FlateDecode', ColorSpace: ['DeviceN', ['Warm', 'Cold'], 'DeviceRGB', tint] } };
    });
    expect(found).toEqual([
      [255, 255, 255],
      [255, 0, 0],
    ]);
  });

  it('one in Lab', async () => {
    const data = deflateSync(Uint8Array.from([...halves].flatMap((level) => [level, 128, 128])));
    const space = ['Lab', { WhitePoint: [0.9642, 1, 0.8249], Range: [-128, 127, -128, 127] }];
    const found = await drawn(() => ({ data, entries: { Filter: 'FlateDecode', ColorSpace: space } }));
    expect(near(found, BLACK_AND_WHITE, 3)).toEqual(BLACK_AND_WHITE);
  });

  it('one with a colour left out', async () => {
    const data = deflateSync(halves);
    const entries = { Filter: 'FlateDecode', ColorSpace: 'DeviceGray', Mask: [0, 10], Decode: [0, 0.5] };
    const found = await drawn(() => ({ data, entries }));
    // What is left out shows the paper; the rest is half grey.
    expect(
      near(
        found,
        [
          [255, 255, 255],
          [128, 128, 128],
        ],
        1,
      ),
    ).toEqual([
      [255, 255, 255],
      [128, 128, 128],
    ]);
  });

  it('a stencil', async () => {
    const bits = Uint8Array.from({ length: 6 * HEIGHT }, (_, at) => (at % 6 < 3 ? 0 : 255));
    const found = await drawn(() => ({
      data: bits,
      entries: { ImageMask: true, BitsPerComponent: 1 },
    }));
    expect(found).toEqual(BLACK_AND_WHITE);
  });
});
