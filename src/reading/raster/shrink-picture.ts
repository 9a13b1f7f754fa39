import sharp from 'sharp';
import { wrapAsTiff } from './wrap-as-tiff.ts';
import type { Colouring } from './ink-table.ts';
import { halfJpeg, halfOf, readHalfJpeg } from './jpeg/half-jpeg.ts';
import type { SampleLayout, Samples } from './picture-kind.ts';

// One thread a worker: the pool is what uses the cores. Nothing is drawn twice, so nothing is kept.
sharp.cache(false);
sharp.concurrency(1);

/**
 * From a factor of 4 on libvips first averages whole blocks, and rounds their number up: the picture then lies up to a
 * third of a pixel off its place at the far edge. Smaller steps are exact.
 */
const MOST_IN_ONE_STEP = 4;
const STEP = 3;

/** What the samples of a shrunk picture become. */
export interface Coloured {
  /** For so many pixels. */
  readonly colouring: (pixels: number) => Colouring;
  /** Whether its last pixels may lie half outside, as `Samples.shown` says. */
  readonly mayReachOut: boolean;
}

/**
 * Shrinks a picture channel by channel in its own colour space; no profile is applied. A JPEG of which at most half is
 * wanted each way is decoded straight to half (`readHalfJpeg`), if half of it can be told in whole pixels or need not be; all
 * else is shrunk natively.
 *
 * @param coded  a JPEG file, or the samples as they come out of the lossless filters
 * @param width  of the result, in pixels; at most the picture's own
 * @param coloured  what the samples are to become in the end; null: they stay
 * @returns null where the coded data is not what the layout says; such a picture is left to the renderer
 */
export async function shrinkPicture(
  coded: Uint8Array,
  layout: SampleLayout,
  width: number,
  height: number,
  pixelLimit: number,
  coloured: Coloured | null = null,
): Promise<Samples | null> {
  const { channels, pixelWidth, pixelHeight, jpeg } = layout;
  if (!jpeg && coded.length < pixelWidth * pixelHeight * channels) return null;
  const goOn = (data: Uint8Array, done: { readonly width: number; readonly height: number }) => {
    const rest = { channels, inverted: false, jpeg: false, pixelWidth: done.width, pixelHeight: done.height };
    return shrinkPicture(data, rest, width, height, pixelLimit, coloured);
  };
  const half = halfOf(layout);
  const isJustHalf = width === half.width && height === half.height;
  const isEven = pixelWidth % 2 === 0 && pixelHeight % 2 === 0;
  if (jpeg && isJustHalf && coloured !== null && (isEven || coloured.mayReachOut)) {
    const { put, colours } = coloured.colouring(width * height);
    const shown = { width: pixelWidth / 2, height: pixelHeight / 2 };
    if (readHalfJpeg(coded, layout, put)) return { width, height, data: colours, shown };
  } else if (jpeg && isEven && width <= half.width && height <= half.height) {
    const halved = halfJpeg(coded, layout);
    if (halved !== null) return isJustHalf && coloured === null ? halved : goOn(halved.data, half);
  }
  const step = { width: stepTowards(width, pixelWidth), height: stepTowards(height, pixelHeight) };
  const input = jpeg ? viewOf(coded) : wrapAsTiff(coded, layout);
  const data = await resample(input, layout, step, pixelLimit);
  if (data === null) return null;
  // libvips hands every CMYK JPEG over turned round, whether or not it carries the Adobe marker.
  if (layout.inverted !== (jpeg && channels === 4)) invert(data);
  if (step.width !== width || step.height !== height) return goOn(data, step);
  if (coloured === null) return { width, height, data };
  const { put, colours } = coloured.colouring(width * height);
  put(data);
  return { width, height, data: colours };
}

/** How far one step of shrinking goes. */
function stepTowards(wanted: number, pixels: number): number {
  return pixels >= wanted * MOST_IN_ONE_STEP ? Math.max(wanted, Math.ceil(pixels / STEP)) : wanted;
}

async function resample(
  input: Buffer,
  { channels, pixelWidth, pixelHeight }: SampleLayout,
  { width, height }: { readonly width: number; readonly height: number },
  pixelLimit: number,
): Promise<Uint8Array | null> {
  const space = channels === 4 ? 'cmyk' : channels === 3 ? 'srgb' : 'b-w';
  try {
    // failOn none: a JPEG cut short still shows its upper part, as the renderer would draw it.
    const image = sharp(input, { ignoreIcc: true, failOn: 'none', limitInputPixels: pixelLimit, unlimited: true });
    const found = await image.metadata();
    if (found.width !== pixelWidth || found.height !== pixelHeight || found.channels !== channels) return null;
    const { data, info } = await image
      .pipelineColourspace(space)
      .resize(width, height, { fit: 'fill', kernel: 'cubic', fastShrinkOnLoad: false })
      .toColourspace(space)
      .raw()
      .toBuffer({ resolveWithObject: true });
    return info.channels === channels ? data : null;
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
