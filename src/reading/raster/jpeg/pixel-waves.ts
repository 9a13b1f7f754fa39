import { KEPT, SIDE } from './waves.ts';

/** How waves of blocks count in the pixels of one axis. */
export interface PixelWaves {
  /** The first pixel of each block. */
  readonly starts: Uint32Array;
  /** Of each block sixteen: for each of the four slowest waves its weight in each of four pixels. */
  readonly weights: Float32Array;
}

/**
 * Blocks of eight samples brought to about half as many pixels along an axis: a wave counts in a pixel as the mean of the
 * two places on either side of its middle, half a pixel apart. Where pixels are exactly two samples, these are the samples.
 *
 * @param pixels  half of the samples, rounded up or down: no block then has more than four
 * @source ITU-T T.81, A.3.3 (the waves), from memory; a cosine between samples is their band-limited interpolation
 */
export function pixelWaves(samples: number, pixels: number): PixelWaves {
  const scale = samples / pixels;
  const blocks = Math.ceil(samples / SIDE);
  const left = Array.from({ length: KEPT }, (_, wave) => {
    const size = wave === 0 ? Math.SQRT1_2 / 2 : 0.5;
    return size * Math.cos((wave * scale * Math.PI) / (4 * SIDE));
  });
  const starts = new Uint32Array(blocks);
  const weights = new Float32Array(blocks * KEPT * KEPT);
  for (let block = 0; block < blocks; block++) {
    const start = Math.max(0, Math.ceil((block * SIDE) / scale - 0.5));
    starts[block] = start;
    for (let pixel = 0; pixel < KEPT; pixel++) {
      const middle = (start + pixel + 0.5) * scale - block * SIDE;
      for (let wave = 0; wave < KEPT; wave++) {
        const at = (block * KEPT + wave) * KEPT + pixel;
        weights[at] = left[wave]! * Math.cos((middle * wave * Math.PI) / SIDE);
      }
    }
  }
  return { starts, weights };
}
