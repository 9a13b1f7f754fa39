import { halfJpeg } from '../../../../src/reading/raster/jpeg/half-jpeg.ts';
import type { SamplePicture } from '../sample-pictures.ts';
import { halvedByDefinition } from './halved-by-definition.ts';
import { chance, layoutOf, pictureOf, withApplication, withNames } from './jpeg-files.ts';

/** Even, odd, smaller than a block. */
export const SIZES = [
  [64, 48],
  [63, 41],
  [17, 33],
  [7, 9],
  [1, 1],
] as const;
/** The file codes the channels as they are: three that are named R, G, B, without JFIF's word for something else. */
export const asCoded = (file: Buffer): Buffer =>
  layoutOf(file).channels === 3 ? withNames(withApplication(file), 'RGB') : file;

/** Half of a file, copied; null where it is left to the library. */
export function halved(file: Uint8Array, inverted = false): Buffer | null {
  const samples = halfJpeg(file, layoutOf(file, inverted));
  return samples === null ? null : Buffer.from(samples.data);
}

/** How many levels a file's half is from the definition's at most, this rounded and clipped. */
export async function mostOff(file: Uint8Array, inverted = false): Promise<number> {
  const expected = await halvedByDefinition(file);
  const found = halved(file, inverted);
  if (found?.length !== expected.length) throw new Error('half of the picture is expected');
  return expected.reduce((most, exact, at) => {
    const level = Math.min(255, Math.max(0, Math.round(exact)));
    return Math.max(most, Math.abs(found[at]! - (inverted ? 255 - level : level)));
  }, 0);
}

/** Each sample by chance. */
export const noise = (width: number, height: number, channels: 1 | 3 | 4): SamplePicture => {
  const next = chance(width * height * channels);
  return pictureOf(width, height, channels, () => Math.floor(next() * 256));
};
