import sharp from 'sharp';
import { wrapAsTiff } from './wrap-as-tiff.ts';
import type { SampleLayout } from './picture-kind.ts';

// One thread a worker: the pool is what uses the cores. Nothing is drawn twice, so nothing is kept.
sharp.cache(false);
sharp.concurrency(1);

/** Samples as the file means them, /Decode applied: `channels` bytes a pixel, row by row from the top left. */
export interface Samples {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/**
 * Shrinks a picture channel by channel in its own colour space, natively; no profile is applied.
 *
 * @param coded  a JPEG file, or the samples as they come out of the lossless filters
 * @param width  of the result, in pixels; at most the picture's own
 * @returns null where the coded data is not what the layout says; such a picture is left to the renderer
 */
export async function shrinkPicture(
  coded: Uint8Array,
  layout: SampleLayout,
  width: number,
  height: number,
  pixelLimit: number,
): Promise<Samples | null> {
  const { channels, pixelWidth, pixelHeight } = layout;
  if (!layout.jpeg && coded.length < pixelWidth * pixelHeight * channels) return null;
  const input = layout.jpeg ? viewOf(coded) : wrapAsTiff(coded, layout);
  const space = channels === 4 ? 'cmyk' : channels === 3 ? 'srgb' : 'b-w';
  try {
    // failOn none: a JPEG cut short still shows its upper part, as the renderer would draw it.
    const image = sharp(input, { ignoreIcc: true, failOn: 'none', limitInputPixels: pixelLimit, unlimited: true });
    const found = await image.metadata();
    if (found.width !== pixelWidth || found.height !== pixelHeight || found.channels !== channels) return null;
    const shrunk = await image
      .pipelineColourspace(space)
      .resize(width, height, { fit: 'fill', kernel: 'cubic' })
      .toColourspace(space)
      .raw()
      .toBuffer({ resolveWithObject: true });
    if (shrunk.info.channels !== channels) return null;
    // libvips hands every CMYK JPEG over turned round, whether or not it carries the Adobe marker.
    if (layout.inverted !== (layout.jpeg && channels === 4)) invert(shrunk.data);
    return { width, height, data: shrunk.data };
  } catch {
    return null;
  }
}

function viewOf(bytes: Uint8Array): Buffer {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function invert(samples: Uint8Array): void {
  const aligned = samples.byteOffset % 4 === 0 ? samples.length >> 2 : 0;
  // Four at a time: a CMYK page is millions of bytes.
  const fours = new Uint32Array(samples.buffer, aligned === 0 ? 0 : samples.byteOffset, aligned);
  for (let at = 0; at < fours.length; at++) fours[at] = ~(fours[at] ?? 0);
  for (let at = aligned * 4; at < samples.length; at++) samples[at] = 255 - (samples[at] ?? 0);
}
