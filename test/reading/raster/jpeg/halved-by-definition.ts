import type { SamplePicture } from '../sample-pictures.ts';
import { decoded, layoutOf, withSize } from './jpeg-files.ts';

const [SIDE, KEPT] = [8, 4];

/** How a wave of unit size lies at a place, from 0 at a block's edge to 8. Source: ITU-T T.81, A.3.3, from memory. */
function waveAt(wave: number, place: number): number {
  return (wave === 0 ? Math.SQRT1_2 / 2 : 0.5) * Math.cos((place * wave * Math.PI) / SIDE);
}

/**
 * Half of a file's picture by the definition, not yet rounded: all its blocks decoded in full by libjpeg, each one's waves taken, the
 * four slowest each way put together again at the two by two samples of each pixel; their mean. Of an odd number of samples the last
 * pixel is the mean of those that are inside.
 *
 * Blocks at the right and lower edge are asked of a file that says it is as large as they are.
 */
export async function halvedByDefinition(file: Uint8Array): Promise<Float64Array> {
  const { pixelWidth, pixelHeight, channels } = layoutOf(file);
  const whole = [pixelWidth, pixelHeight].map((pixels) => Math.ceil(pixels / SIDE) * SIDE) as [number, number];
  const blocks = wavesOf(await decoded(withSize(file, ...whole)));
  const [across, down] = [placesOf(pixelWidth), placesOf(pixelHeight)];
  const [width, height] = [across.length, down.length];
  const levels = new Float64Array(width * height * channels);
  for (let at = 0; at < levels.length; at++) {
    const [column, row] = [across[Math.floor(at / channels) % width]!, down[Math.floor(at / (channels * width))]!];
    const waves = blocks[(row.block * (whole[0] / SIDE) + column.block) * channels + (at % channels)]!;
    for (let wave = 0; wave < KEPT * KEPT; wave++) {
      levels[at]! += waves[wave]! * row.weights[Math.floor(wave / KEPT)]! * column.weights[wave % KEPT]!;
    }
  }
  return levels;
}

/** For each pixel of an axis the block it lies in, and what the waves of that have there. */
function placesOf(samples: number) {
  return Array.from({ length: Math.ceil(samples / 2) }, (_, pixel) => {
    const inside = [2 * pixel, 2 * pixel + 1].filter((sample) => sample < samples);
    const weights = Array.from({ length: KEPT }, (__, wave) => {
      return inside.reduce((sum, sample) => sum + waveAt(wave, (sample % SIDE) + 0.5), 0) / inside.length;
    });
    return { block: Math.floor((2 * pixel) / SIDE), weights };
  });
}

/** The slowest waves, four rows of four, of each channel of each block. */
function wavesOf({ width, height, channels, data }: SamplePicture): readonly Float64Array[] {
  const blocks: Float64Array[] = [];
  for (let top = 0; top < height; top += SIDE) {
    for (let left = 0; left < width; left += SIDE) {
      for (let channel = 0; channel < channels; channel++) {
        blocks.push(slowWaves((x, y) => data[((top + y) * width + left + x) * channels + channel]!));
      }
    }
  }
  return blocks;
}

function slowWaves(sampleAt: (x: number, y: number) => number): Float64Array {
  const waves = new Float64Array(KEPT * KEPT);
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      for (let wave = 0; wave < waves.length; wave++) {
        waves[wave]! += sampleAt(x, y) * waveAt(Math.floor(wave / KEPT), y + 0.5) * waveAt(wave % KEPT, x + 0.5);
      }
    }
  }
  return waves;
}
