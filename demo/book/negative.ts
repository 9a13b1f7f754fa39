import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { numbersFrom } from './library.ts';
import type { PictureLibrary } from './library.ts';

/** A picture enlarged for print, with grain, so that a file of 300 ppi has something to show at 300 ppi. */
export interface Negative {
  readonly path: string;
  readonly width: number;
  readonly height: number;
}

/** To be counted up when negatives are made differently: part of the names of kept files. */
const PROCESS = 'negative 2';
const GRAIN_SIDE = 768;
const negatives = new Map<string, Promise<Negative>>();

/** The negative of a library's picture, made once and kept in the folder. */
export function negativeOf(library: PictureLibrary, name: string, folder: string): Promise<Negative> {
  const key = `${folder} ${library.edition} ${name}`;
  const known = negatives.get(key) ?? develop(library, name, folder);
  negatives.set(key, known);
  return known;
}

async function develop(library: PictureLibrary, name: string, folder: string): Promise<Negative> {
  const digest = createHash('sha256').update([PROCESS, library.edition, library.printPx, name].join('/')).digest('hex');
  const path = join(folder, `negative-${digest.slice(0, 20)}.jpg`);
  if (!existsSync(path)) {
    await mkdir(folder, { recursive: true });
    const source = await library.picture(name);
    const scale = library.printPx / Math.max(source.width, source.height);
    const width = Math.round(source.width * scale);
    const height = Math.round(source.height * scale);
    const smooth = await sharp(source.rgb, { raw: { width: source.width, height: source.height, channels: 3 } })
      .resize(width, height, { kernel: 'lanczos3', fit: 'fill' })
      .sharpen({ sigma: 1.4 })
      .raw()
      .toBuffer();
    addGrain(smooth, width);
    const bytes = await sharp(smooth, { raw: { width, height, channels: 3 } })
      .jpeg({ quality: 95, chromaSubsampling: '4:4:4' })
      .toBuffer();
    await writeFile(`${path}.part`, bytes);
    await rename(`${path}.part`, path);
  }
  const { width, height } = await sharp(path).metadata();
  return { path, width, height };
}

/** Grey noise a pixel and a half wide, strongest in the middle tones as silver has it. */
function addGrain(rgb: Buffer, width: number): void {
  const next = numbersFrom(1906);
  const noise = Float32Array.from({ length: GRAIN_SIDE * GRAIN_SIDE }, () => next() + next() - 1);
  const grain = noise.map(
    (n, i) =>
      11 * (n + 0.6 * (noise[(i + 1) % noise.length] ?? 0) + 0.6 * (noise[(i + GRAIN_SIDE) % noise.length] ?? 0)),
  );
  const strength = Float32Array.from({ length: 256 }, (_, value) => (value * (255 - value)) / 128 ** 2);
  for (let at = 0, pixel = 0; at < rgb.length; at += 3, pixel += 1) {
    const y = Math.floor(pixel / width);
    const speck = grain[(y % GRAIN_SIDE) * GRAIN_SIDE + ((pixel - y * width) % GRAIN_SIDE)] ?? 0;
    for (let c = at; c < at + 3; c += 1) {
      const value = rgb[c] ?? 0;
      rgb[c] = Math.min(255, Math.max(0, Math.round(value + speck * (strength[value] ?? 0))));
    }
  }
}
