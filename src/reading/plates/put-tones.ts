import { readFile, writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import { Refusal } from '../../model/index.ts';
import { sumOfRows } from '../raster/kernels/pixels.ts';
import type { InkTones } from './ink-tones.ts';
import type { TonesOnDisk } from './ink-page.ts';

/** Puts tones aside on disk for other workers. */
export async function putTones(tones: InkTones, path: string): Promise<TonesOnDisk> {
  await writeFile(path, tones.data);
  return { path, width: tones.width, height: tones.height };
}

/** The same tones with fewer pixels, each the mean of what lies under it. */
export async function fewerTones(
  { width, height, data }: InkTones,
  to: Pick<InkTones, 'width' | 'height'>,
): Promise<InkTones> {
  const image = sharp(data, { raw: { width, height, channels: 1 }, limitInputPixels: false });
  const shrunk = await image
    .resize({ ...to, fit: 'fill', kernel: 'linear' })
    .toColourspace('b-w')
    .raw()
    .toBuffer();
  return { ...to, data: shrunk };
}

/** The mean over a whole plate, 0 to 255. */
export function meanTone({ width, height, data }: InkTones): number {
  const sums = sumOfRows(data, width, 0, height);
  return sums.reduce((sum, column) => sum + column, 0) / data.length;
}

/**
 * Reads back what was put aside.
 *
 * @throws {Refusal} unavailable: it is gone, or cut short
 */
export async function readTones({ path, width, height }: TonesOnDisk): Promise<InkTones> {
  const data = await readFile(path).catch(() => null);
  if (data?.length === width * height) return { width, height, data };
  throw new Refusal('unavailable', { what: 'a plate', reason: 'its tones are gone from the disk' });
}
