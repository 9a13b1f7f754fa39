import { PDFContext, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import { describe, expect, it } from 'vitest';
import { shrinkableLayout } from '../../../src/reading/raster/picture-kind.ts';

const context = PDFContext.create();

/** The layout of a picture with these entries, 300 x 200 pixels of 8 bits unless they say otherwise. */
function layoutOf(entries: Readonly<Record<string, unknown>>) {
  const dict = context.obj({ Subtype: 'Image', Width: 300, Height: 200, BitsPerComponent: 8, ColorSpace: 'DeviceRGB' });
  for (const [key, value] of Object.entries(entries)) dict.set(PDFName.of(key), context.obj(value as never));
  return shrinkableLayout(PDFRawStream.of(dict, new Uint8Array(0)));
}

const profile = (N: number) => ['ICCBased', context.register(context.stream('', { N }))];
const shape = { pixelWidth: 300, pixelHeight: 200 };

describe('a picture is shrunk channel by channel', () => {
  it('when it has 8 bits of grey, RGB or CMYK, as JPEG or without loss', () => {
    expect([
      layoutOf({ Filter: 'DCTDecode' }),
      layoutOf({ Filter: ['ASCII85Decode', 'DCTDecode'], ColorSpace: 'DeviceCMYK' }),
      layoutOf({ Filter: 'FlateDecode', ColorSpace: profile(1) }),
      layoutOf({ ColorSpace: profile(4), Decode: [1, 0, 1, 0, 1, 0, 1, 0] }),
      layoutOf({ Filter: 'LZWDecode', ColorSpace: ['CalRGB', {}], Decode: [0, 1, 0, 1, 0, 1] }),
    ]).toEqual([
      { ...shape, channels: 3, inverted: false, jpeg: true },
      { ...shape, channels: 4, inverted: false, jpeg: true },
      { ...shape, channels: 1, inverted: false, jpeg: false },
      { ...shape, channels: 4, inverted: true, jpeg: false },
      { ...shape, channels: 3, inverted: false, jpeg: false },
    ]);
  });

  it('and left to the renderer whole when it is anything else', () => {
    const matted = context.register(context.stream('', { Matte: [0, 0, 0] }));
    const others: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
      'a stencil': { ImageMask: true, BitsPerComponent: 1 },
      'one bit': { BitsPerComponent: 1, ColorSpace: 'DeviceGray' },
      '16 bits': { BitsPerComponent: 16 },
      'JPEG 2000': { Filter: 'JPXDecode' },
      JBIG2: { Filter: 'JBIG2Decode', BitsPerComponent: 1 },
      CCITT: { Filter: 'CCITTFaxDecode', BitsPerComponent: 1 },
      'a JPEG within a JPEG': { Filter: ['DCTDecode', 'DCTDecode'] },
      indexed: { ColorSpace: ['Indexed', 'DeviceRGB', 1, 'ab'] },
      'a spot colour': { ColorSpace: ['Separation', 'Gold', 'DeviceCMYK', {}] },
      'several spot colours': { ColorSpace: ['DeviceN', ['Gold', 'Silver'], 'DeviceCMYK', {}] },
      Lab: { ColorSpace: ['Lab', {}] },
      'a profile of two inks': { ColorSpace: profile(2) },
      'no colour space': { ColorSpace: null },
      'a colour left out': { Mask: [0, 1, 0, 1, 0, 1] },
      'a stencil over it': { Mask: matted },
      'matted with its mask': { SMask: matted },
      'the mask of a matted one': { Matte: [0] },
      'half of its range': { Decode: [0, 0.5, 0, 0.5, 0, 0.5] },
      'one channel turned round': { Decode: [1, 0, 0, 1, 0, 1] },
      'a transform of its own': { Filter: 'DCTDecode', DecodeParms: { ColorTransform: 0 } },
      'no size': { Width: 0 },
    };
    const found = Object.entries(others).filter(([, entries]) => layoutOf(entries) !== null);
    expect(found.map(([name]) => name)).toEqual([]);
  });
});
