import { createHash } from 'node:crypto';
import { readFile, rename, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { promisify } from 'node:util';
import { deflate } from 'node:zlib';
import sharp from 'sharp';
import type { Matrix3x3, Sharp } from 'sharp';
import { MM_PER_INCH } from '../../src/model/index.ts';
import type { Box } from '../../src/model/index.ts';
import type { Negative } from './negative.ts';
import { isUpright, regionOnPage } from './placement.ts';
import type { Preparation } from './preparation.ts';
import type { PictureItem } from './spec.ts';
import { treat } from './treatment.ts';
import type { Cutting } from './treatment.ts';

/** Picture data as it goes into a file, and where it lies. */
export interface PreparedPiece {
  readonly bytes: Buffer;
  readonly width: number;
  readonly height: number;
  readonly channels: 3 | 4;
  readonly filter: 'DCTDecode' | 'FlateDecode';
  /** On the page in mm, before the content is turned or flipped. */
  readonly box: Box;
}

export interface PreparedPicture {
  readonly item: PictureItem;
  readonly pieces: readonly PreparedPiece[];
  /** Whether the data reaches beyond the window, so that a path has to clip it. */
  readonly clipped: boolean;
}

/** To be counted up when pictures are prepared differently: part of the names of kept files. */
const PROCESS = 'pieces 2';
const MARGIN = 0.06;
const deflateAsync = promisify(deflate);

/** A picture's data for one preparation, from the kept files where it was made before. */
export async function preparePicture(
  item: PictureItem,
  negative: Negative,
  how: Preparation,
  folder: string,
): Promise<PreparedPicture> {
  const clipped = how.data === 'clipped' || item.data !== undefined || !isUpright(item);
  const px = pixelRegion(item.data ?? item.crop, negative, clipped && item.data === undefined ? MARGIN : 0);
  const region = {
    x: px.left / negative.width,
    y: px.top / negative.height,
    width: px.width / negative.width,
    height: px.height / negative.height,
  };
  // Cut data lies exactly where its pixels belong, so its edge may miss the window's by half a pixel of the negative.
  const box = regionOnPage(item, region);
  const ppi = item.ppi ?? how.ppi;
  const width = Math.max(1, Math.round((box.width * ppi) / MM_PER_INCH));
  const height = Math.max(how.strips, Math.round((box.height * ppi) / MM_PER_INCH));
  const { colour, coding, strips, kernel, tone, inkProfile } = how;
  const key = { of: basename(negative.path), px, width, height, colour, coding, strips, kernel, tone, inkProfile };
  const digest = createHash('sha256')
    .update(JSON.stringify([PROCESS, key, item.treatments ?? []]))
    .digest('hex')
    .slice(0, 24);
  let pixels: Promise<Buffer> | undefined;
  const pieces: PreparedPiece[] = [];
  for (let strip = 0; strip < strips; strip += 1) {
    const top = Math.round((height * strip) / strips);
    const rows = Math.round((height * (strip + 1)) / strips) - top;
    const path = join(folder, `piece-${digest}-${strip}.bin`);
    const bytes = await kept(path, async () => {
      pixels ??= enlarge(item, negative, { px, region, width, height }, how);
      const image = sharp(await pixels, { raw: { width, height, channels: 3 } });
      return encode(image.extract({ left: 0, top, width, height: rows }), how);
    });
    const mm = box.height / height;
    pieces.push({
      bytes,
      width,
      height: rows,
      channels: colour === 'cmyk' ? 4 : 3,
      filter: coding === 'flate' ? 'FlateDecode' : 'DCTDecode',
      box: { x: box.x, y: box.y + top * mm, width: box.width, height: rows * mm },
    });
  }
  return { item, pieces, clipped };
}

function pixelRegion(crop: Box, negative: Negative, margin: number) {
  const outward = margin > 0;
  const left = Math.max(0, crop.x - margin * crop.width) * negative.width;
  const top = Math.max(0, crop.y - margin * crop.height) * negative.height;
  const right = Math.min(1, crop.x + crop.width * (1 + margin)) * negative.width;
  const bottom = Math.min(1, crop.y + crop.height * (1 + margin)) * negative.height;
  const start = {
    left: outward ? Math.floor(left) : Math.round(left),
    top: outward ? Math.floor(top) : Math.round(top),
  };
  return {
    ...start,
    width: Math.max(1, (outward ? Math.ceil(right) : Math.round(right)) - start.left),
    height: Math.max(1, (outward ? Math.ceil(bottom) : Math.round(bottom)) - start.top),
  };
}

interface Target {
  readonly px: { left: number; top: number; width: number; height: number };
  readonly region: Box;
  readonly width: number;
  readonly height: number;
}

async function enlarge(item: PictureItem, negative: Negative, to: Target, how: Preparation): Promise<Buffer> {
  let image = sharp(negative.path).extract(to.px);
  if (item.treatments !== undefined && item.treatments.length > 0) {
    let cutting: Cutting = {
      rgb: await image.raw().toBuffer(),
      width: to.px.width,
      height: to.px.height,
      region: to.region,
    };
    for (const treatment of item.treatments) cutting = await treat(cutting, treatment);
    image = sharp(cutting.rgb, { raw: { width: cutting.width, height: cutting.height, channels: 3 } });
  }
  image = image.resize(to.width, to.height, { fit: 'fill', kernel: how.kernel });
  const rgb = await image.raw().toBuffer();
  if (how.tone === 'coated') return rgb;
  return sharp(rgb, { raw: { width: to.width, height: to.height, channels: 3 } })
    .recomb(PALER)
    .linear(UNCOATED_RANGE, UNCOATED_BLACK)
    .raw()
    .toBuffer();
}

/** Encoded levels of L* 12 and the span to L* 95: about what uncoated stock does to black and white. */
const UNCOATED_BLACK = 32;
const UNCOATED_RANGE = (240 - UNCOATED_BLACK) / 255;
const KEPT = 0.85;

/** Colours a seventh paler: each channel drawn towards luma. */
const PALER = paler([0.2126, 0.7152, 0.0722]);

function paler([r, g, b]: readonly [number, number, number]): Matrix3x3 {
  const grey = [r * (1 - KEPT), g * (1 - KEPT), b * (1 - KEPT)] as const;
  return [
    [grey[0] + KEPT, grey[1], grey[2]],
    [grey[0], grey[1] + KEPT, grey[2]],
    [grey[0], grey[1], grey[2] + KEPT],
  ];
}

async function encode(image: Sharp, how: Preparation): Promise<Buffer> {
  let inked = how.colour === 'cmyk' ? image.toColourspace('cmyk') : image.toColourspace('srgb');
  if (how.colour === 'cmyk' && how.inkProfile !== undefined)
    inked = inked.withIccProfile(how.inkProfile, { attach: false });
  if (how.coding === 'flate') return deflateAsync(await inked.raw().toBuffer(), { level: 3 });
  return inked.jpeg({ quality: how.coding, chromaSubsampling: how.coding > 90 ? '4:4:4' : '4:2:0' }).toBuffer();
}

async function kept(path: string, make: () => Promise<Buffer>): Promise<Buffer> {
  try {
    return await readFile(path);
  } catch {
    const bytes = await make();
    await writeFile(`${path}.part`, bytes);
    await rename(`${path}.part`, path);
    return bytes;
  }
}
