import type { PageRaster } from '../../../src/model/index.ts';

/** How far two rasters of one size differ, in levels of 255, each blurred slightly (3 x 3 binomial) before. */
export interface RasterDifference {
  readonly mean: number;
  readonly most: number;
}

/** @param margin  pixels left out along each edge */
export function rasterDifference(one: PageRaster, other: PageRaster, margin = 1): RasterDifference {
  if (one.width !== other.width || one.height !== other.height) {
    throw new Error(`${one.width} x ${one.height} against ${other.width} x ${other.height}`);
  }
  const [a, b] = [blurred(one), blurred(other)];
  const { width, height } = one;
  let [sum, count, most] = [0, 0, 0];
  for (let y = margin; y < height - margin; y++) {
    for (let at = (y * width + margin) * 3; at < (y * width + width - margin) * 3; at++) {
      const difference = Math.abs((a[at] ?? 0) - (b[at] ?? 0));
      sum += difference;
      most = Math.max(most, difference);
      count += 1;
    }
  }
  return { mean: sum / count, most };
}

function blurred({ width, rgb }: PageRaster): Float32Array {
  return blurredAlong(blurredAlong(Float32Array.from(rgb), 3), width * 3);
}

function blurredAlong(levels: Float32Array, step: number): Float32Array {
  return levels.map((level, at) => ((levels[at - step] ?? level) + 2 * level + (levels[at + step] ?? level)) / 4);
}
