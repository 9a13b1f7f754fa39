import type { Places, Samples } from '../kernels/samples.ts';
import {
  accumulate,
  applyCurve,
  countResiduals,
  putSamples,
  readPlane,
  sumProducts,
  weighResiduals,
} from '../kernels/samples.ts';
import type { Plane } from '../plane.ts';
import type { Similarity } from './similarity.ts';
import { affineOf } from './similarity.ts';
import { invertSymmetric, multiplyVector } from './solve.ts';
import { fitToneCurve } from './tone-curve.ts';

/** A registration at one resolution and how well it holds. Lengths in pixels of the planes. */
export interface Refinement {
  readonly map: Similarity;
  /** Standard deviations and covariance of the shift at the centre, from the residual and the gradients. */
  readonly varXX: number;
  readonly varXY: number;
  readonly varYY: number;
  readonly scaleDeviation: number;
  readonly turnDeviation: number;
  /** Correlation of the tone-fitted dummy with the revision, over what both show; outliers count. */
  readonly likeness: number;
  /** Mean square of what is left, far residuals weighted down; levels squared. */
  readonly variance: number;
  /** Share of the dummy's samples that fell on the revision's plane. */
  readonly overlap: number;
}

const PARAMETERS = 6;
const MOST_SAMPLES = 24_000;
/** Mean square, in levels, of what compression and rounding do to a picture of no contrast: less is no evidence. */
const INVISIBLE = 1;
/** Neighbouring residuals are not independent: compression and resampling noise reaches over about 2 x 2 pixels. */
const CORRELATED_PIXELS = 4;

/**
 * Registers picture content to a fraction of a pixel: Gauss-Newton on the revision's levels against the dummy's, the
 * dummy's tone fitted to the revision's at each step, far residuals (retouched, overprinted) weighted down.
 *
 * @param dummy     luma of the dummy's window
 * @param revision  luma around the revision's window, at the same resolution
 * @param start     where to begin; within about a tenth of the smaller side
 * @param mask      as long as the dummy's data, 0 where a pixel must not speak (type, other pictures); or null
 * @returns null where too little overlaps to say anything
 * @source Lucas & Kanade 1981 with the tone treatment in the spirit of Evangelidis & Psarakis 2008; from memory, known
 *         shifts in test/standards/registration
 */
export function refineSimilarity(
  { dummy, revision }: { readonly dummy: Plane; readonly revision: Plane },
  start: Similarity,
  mask: Uint8Array | null,
  steps: number,
): Refinement | null {
  const places = pickSamples(dummy, mask);
  const count = places.x.length;
  if (count < 30) return null;
  const samples = putSamples(places, revision);
  let map = start;
  let overlap = 0;
  let last: { inverse: Float64Array; variance: number } | null = null;
  const radius = Math.hypot(dummy.width, dummy.height) / 4 + 1;
  for (let step = 0; step <= steps; step++) {
    overlap = readPlane(samples, affineOf(map));
    if (overlap < 0.2 * count) return null;
    applyCurve(samples, fitToneCurve(samples));
    weigh(samples, step === 0 && steps > 0 ? WIDE : NARROW);
    const { normal, right, energy, mass } = equations(samples, map, radius);
    const inverse = invertSymmetric(normal, PARAMETERS);
    if (inverse === null) return noGradient(map, correlate(samples), overlap / count);
    last = { inverse, variance: energy / Math.max(1, mass - PARAMETERS) };
    if (step === steps) break;
    const change = multiplyVector(inverse, right, PARAMETERS);
    map = {
      ...map,
      shiftX: map.shiftX + clamp(change[0]!, 4),
      shiftY: map.shiftY + clamp(change[1]!, 4),
      scale: map.scale * Math.exp(clamp(change[2]! / radius, 0.1)),
      turnRad: map.turnRad + clamp(change[3]! / radius, 0.1),
    };
    if (Math.hypot(change[0]!, change[1]!, change[2]!, change[3]!) < 0.004) steps = step + 1;
  }
  const likeness = correlate(samples);
  const { inverse, variance } = last!;
  const v = variance * CORRELATED_PIXELS;
  return {
    map,
    varXX: v * inverse[0]!,
    varXY: v * inverse[1]!,
    varYY: v * inverse[PARAMETERS + 1]!,
    scaleDeviation: Math.sqrt(v * inverse[2 * PARAMETERS + 2]!) / radius,
    turnDeviation: Math.sqrt(v * inverse[3 * PARAMETERS + 3]!) / radius,
    likeness,
    variance,
    overlap: overlap / count,
  };
}

function pickSamples(dummy: Plane, mask: Uint8Array | null): Places {
  const { width, height, data } = dummy;
  const stride = Math.max(1, Math.ceil(Math.sqrt((width * height) / MOST_SAMPLES)));
  const most = Math.ceil(width / stride) * Math.ceil(height / stride);
  const x = new Float32Array(most);
  const y = new Float32Array(most);
  const level = new Float32Array(most);
  let count = 0;
  for (let row = stride >> 1; row < height; row += stride) {
    for (let column = stride >> 1; column < width; column += stride) {
      const i = row * width + column;
      if (mask !== null && mask[i] === 0) continue;
      x[count] = dummy.left + column + 0.5;
      y[count] = dummy.top + row + 0.5;
      level[count++] = data[i]!;
    }
  }
  return { x: x.subarray(0, count), y: y.subarray(0, count), level: level.subarray(0, count) };
}

/** Levels that a residual may always reach: a few lamps in the night are the picture, not outliers of its dark. */
const NARROW = 14;
const WIDE = 50;

/** Tukey's biweight at 4.7 robust deviations, found from the median of the absolute residuals, or at `least` levels. */
function weigh(samples: Samples, least: number): void {
  const { histogram, found } = countResiduals(samples);
  let run = 0;
  let bin = 0;
  while (bin < 1023 && run + histogram[bin]! < found / 2) run += histogram[bin++]!;
  weighResiduals(samples, Math.max(least, (4.7 * 1.4826 * (bin + 0.5)) / 4));
}

function equations(
  samples: Samples,
  map: Similarity,
  radius: number,
): { normal: Float64Array; right: Float64Array; energy: number; mass: number } {
  const [a, b, c, d] = affineOf(map);
  const { centreX, centreY } = map;
  const { normal, right, energy, mass } = accumulate(samples, { map: [a, b, c, d], centreX, centreY, radius });
  for (let j = 0; j < PARAMETERS; j++) {
    for (let k = j + 1; k < PARAMETERS; k++) normal[j * PARAMETERS + k] = normal[k * PARAMETERS + j]!;
    // a whisper of damping keeps an even picture solvable; its uncertainty then says that nothing was measured
    normal[j * PARAMETERS + j]! += 1e-3;
  }
  return { normal, right, energy: energy + INVISIBLE * mass, mass };
}

function noGradient(map: Similarity, likeness: number, overlap: number): Refinement {
  const nothing = 1e6;
  return {
    map,
    varXX: nothing,
    varXY: 0,
    varYY: nothing,
    scaleDeviation: nothing,
    turnDeviation: nothing,
    likeness,
    variance: 0,
    overlap,
  };
}

function correlate(samples: Samples): number {
  const [n, sx, sy, sxx, syy, sxy] = sumProducts(samples);
  const vx = n * sxx - sx * sx;
  const vy = n * syy - sy * sy;
  // one level of noise in each keeps two even tints from correlating by chance
  return n === 0 ? 0 : (n * sxy - sx * sy) / Math.sqrt((vx + n * n) * (vy + n * n));
}

function clamp(value: number, most: number): number {
  return Math.max(-most, Math.min(most, value));
}
