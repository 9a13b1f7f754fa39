import sharp from 'sharp';
import type { Sharp } from 'sharp';
import type { RgbPicture } from './rgb-picture.ts';

/** The picture at most `most` pixels along its longer side; the same one where it is small enough. */
export async function shrinkTo(picture: RgbPicture, most: number): Promise<RgbPicture> {
  const { width, height } = picture;
  const scale = most / Math.max(width, height);
  if (scale >= 1) return picture;
  const { data, info } = await asSharp(picture)
    .resize(Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)), { fit: 'fill' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, rgb: data };
}

/** A picture for a web page. The same pixels give the same bytes. */
export async function encodeWebp(picture: RgbPicture): Promise<Uint8Array> {
  return asSharp(picture).webp({ quality: 84, smartSubsample: true }).toBuffer();
}

/** A picture for a printed page: no colour subsampling, so that fine coloured type stays clean. */
export async function encodeJpeg(picture: RgbPicture): Promise<Uint8Array> {
  return asSharp(picture).jpeg({ quality: 82, chromaSubsampling: '4:4:4' }).toBuffer();
}

function asSharp({ width, height, rgb }: RgbPicture): Sharp {
  return sharp(rgb, { raw: { width, height, channels: 3 } });
}
