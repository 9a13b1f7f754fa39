import { PDFArray, PDFName, PDFStream, type PDFContext, type PDFObject } from '@cantoo/pdf-lib';
import { filterSteps } from '../pdf/decode.ts';
import { elementsOf, entryOf, isTrueEntry, numberEntry, numbersOf } from '../pdf/objects.ts';

/** What must be known of a picture's samples to shrink them without knowing their colours. */
export interface SampleLayout {
  readonly pixelWidth: number;
  readonly pixelHeight: number;
  readonly channels: 1 | 3 | 4;
  /** /Decode turns every channel round. */
  readonly inverted: boolean;
  readonly jpeg: boolean;
}

/** Samples as the file means them, /Decode applied: `channels` bytes a pixel, row by row from the top left. */
export interface Samples {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
  /** How many pixels from the top left are the picture, where the last ones lie half outside; else all. */
  readonly shown?: { readonly width: number; readonly height: number };
}

const LOSSLESS = new Set(['FlateDecode', 'LZWDecode', 'ASCII85Decode', 'ASCIIHexDecode', 'RunLengthDecode']);
const CHANNELS: Readonly<Record<string, 1 | 3 | 4>> = {
  DeviceGray: 1,
  CalGray: 1,
  DeviceRGB: 3,
  CalRGB: 3,
  DeviceCMYK: 4,
};

/**
 * The layout of an image XObject whose samples can be shrunk channel by channel: 8 bits, gray, RGB or CMYK (device,
 * calibrated or ICC), coded as JPEG or without loss, /Decode absent, plain or wholly inverted. Null for every other
 * kind (1-bit, Indexed, 16-bit, JPX, JBIG2, CCITT, Separation, DeviceN, Lab, masked by colour or stencil, matted):
 * those are drawn from their full data.
 */
export function shrinkableLayout(stream: PDFStream): SampleLayout | null {
  const { dict } = stream;
  const filters = filterSteps(dict);
  const last = filters.at(-1);
  const jpeg = last?.name === 'DCTDecode';
  if (!filters.every(({ name }, at) => LOSSLESS.has(name) || (jpeg && at === filters.length - 1))) return null;
  if (isTrueEntry(dict, 'ImageMask') || entryOf(dict, 'Mask') !== undefined) return null;
  const bits = numberEntry(dict, 'BitsPerComponent');
  if (bits !== 8 && !(jpeg && bits === undefined)) return null;
  if (jpeg && last.parms?.has(PDFName.of('ColorTransform')) === true) return null;
  const softMask = entryOf(dict, 'SMask');
  if (dict.has(PDFName.of('Matte')) || (softMask instanceof PDFStream && softMask.dict.has(PDFName.of('Matte')))) {
    return null;
  }
  const pixelWidth = numberEntry(dict, 'Width') ?? 0;
  const pixelHeight = numberEntry(dict, 'Height') ?? 0;
  const channels = channelsOf(dict.context, entryOf(dict, 'ColorSpace'));
  if (channels === null || pixelWidth < 1 || pixelHeight < 1) return null;
  const inverted = isInverted(dict.context, entryOf(dict, 'Decode'), channels);
  return inverted === null ? null : { pixelWidth, pixelHeight, channels, inverted, jpeg };
}

function channelsOf(context: PDFContext, space: PDFObject | undefined): 1 | 3 | 4 | null {
  if (space instanceof PDFName) return CHANNELS[space.decodeText()] ?? null;
  if (!(space instanceof PDFArray)) return null;
  const [family, profile] = elementsOf(context, space);
  if (!(family instanceof PDFName)) return null;
  if (family.decodeText() !== 'ICCBased') return CHANNELS[family.decodeText()] ?? null;
  const count = profile instanceof PDFStream ? numberEntry(profile.dict, 'N') : undefined;
  return count === 1 || count === 3 || count === 4 ? count : null;
}

function isInverted(context: PDFContext, decode: PDFObject | undefined, channels: number): boolean | null {
  if (decode === undefined) return false;
  const bounds = numbersOf(context, decode, 2 * channels);
  if (bounds === undefined) return null;
  if (bounds.every((bound, at) => bound === at % 2)) return false;
  return bounds.every((bound, at) => bound === 1 - (at % 2)) ? true : null;
}
