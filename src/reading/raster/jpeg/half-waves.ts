import { KEPT, SIDE } from './waves.ts';

/**
 * How the four slowest waves of a block of eight samples count in four pixels along an axis: each pixel is the mean of two
 * samples. Of a picture with an odd number of samples the last pixel lies half outside: it is the one sample inside, whatever
 * the file has behind it.
 *
 * @param samples  along the axis
 * @returns for each of the four waves its weight in each of four pixels: in all blocks but the last, and in the last
 * @source ITU-T T.81, A.3.3 (the waves), from memory
 */
export function halfWaves(samples: number): { readonly inner: Float32Array; readonly last: Float32Array } {
  const inner = weightsOf((pixel) => [2 * pixel, 2 * pixel + 1]);
  const inside = samples - (Math.ceil(samples / SIDE) - 1) * SIDE;
  const last = weightsOf((pixel) => (2 * pixel + 1 === inside ? [2 * pixel] : [2 * pixel, 2 * pixel + 1]));
  return { inner, last };
}

function weightsOf(samplesOf: (pixel: number) => readonly number[]): Float32Array {
  const weights = new Float32Array(KEPT * KEPT);
  for (let wave = 0; wave < KEPT; wave++) {
    const size = wave === 0 ? Math.SQRT1_2 / 2 : 0.5;
    for (let pixel = 0; pixel < KEPT; pixel++) {
      const samples = samplesOf(pixel);
      for (const sample of samples) {
        const height = Math.cos(((2 * sample + 1) * wave * Math.PI) / (2 * SIDE));
        weights[wave * KEPT + pixel]! += (size * height) / samples.length;
      }
    }
  }
  return weights;
}
