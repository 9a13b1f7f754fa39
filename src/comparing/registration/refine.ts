import type { Plane } from '../plane.ts';
import { gradients } from '../plane.ts';
import type { Similarity } from './similarity.ts';
import { affineOf } from './similarity.ts';
import { invertSymmetric, multiplyVector } from './solve.ts';
import { applyToneCurve, fitToneCurve } from './tone-curve.ts';

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

/** What is prepared once for a plane that others are registered to. */
export interface Target {
  readonly plane: Plane;
  readonly dx: Float32Array;
  readonly dy: Float32Array;
}

/** A revision plane with its gradients. */
export function targetOf(plane: Plane): Target {
  return { plane, ...gradients(plane) };
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
  { dummy, revision }: { readonly dummy: Plane; readonly revision: Target },
  start: Similarity,
  mask: Uint8Array | null,
  steps: number,
): Refinement | null {
  const samples = pickSamples(dummy, mask);
  const count = samples.x.length;
  if (count < 30) return null;
  const levels = samples.level;
  const seen = new Float32Array(count);
  const inside = new Float32Array(count);
  const fitted = new Float32Array(count);
  const weights = new Float32Array(count).fill(1);
  const gx = new Float32Array(count);
  const gy = new Float32Array(count);
  let map = start;
  let last: { inverse: Float64Array; variance: number } | null = null;
  const radius = Math.hypot(dummy.width, dummy.height) / 4 + 1;
  for (let step = 0; step <= steps; step++) {
    const overlap = sampleTarget(revision, map, samples, { seen, inside, gx, gy });
    if (overlap < 0.2 * count) return null;
    for (let i = 0; i < count; i++) weights[i] = inside[i]! * (step === 0 ? 1 : weights[i]!);
    const curve = fitToneCurve(levels, seen, weights);
    for (let i = 0; i < count; i++) fitted[i] = applyToneCurve(curve, levels[i]!);
    weigh(seen, fitted, inside, weights, step === 0 && steps > 0 ? WIDE : NARROW);
    const { normal, right, energy, mass } = accumulate(map, samples, { seen, fitted, weights, gx, gy }, radius);
    const inverse = invertSymmetric(normal, PARAMETERS);
    if (inverse === null) return noGradient(map, seen, fitted, inside, overlap / count);
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
  const likeness = correlate(seen, fitted, inside);
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
    overlap: overlapShare(inside),
  };
}

interface Samples {
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly level: Float32Array;
}

interface Seen {
  readonly seen: Float32Array;
  readonly inside: Float32Array;
  readonly gx: Float32Array;
  readonly gy: Float32Array;
}

function pickSamples(dummy: Plane, mask: Uint8Array | null): Samples {
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

/** Reads the revision where the map says, bilinearly. Returns how many samples lay on its plane. */
function sampleTarget({ plane, dx, dy }: Target, map: Similarity, samples: Samples, out: Seen): number {
  const [a, b, c, d, e, f] = affineOf(map);
  const { width, height, left, top, data } = plane;
  let count = 0;
  for (let i = 0; i < samples.x.length; i++) {
    const x = samples.x[i]!;
    const y = samples.y[i]!;
    const u = a * x + c * y + e - left - 0.5;
    const v = b * x + d * y + f - top - 0.5;
    if (!(u >= 0 && v >= 0 && u < width - 1 && v < height - 1)) {
      out.inside[i] = 0;
      out.seen[i] = 0;
      continue;
    }
    const column = u | 0;
    const row = v | 0;
    const p = u - column;
    const q = v - row;
    const at = row * width + column;
    const w00 = (1 - p) * (1 - q);
    const w10 = p * (1 - q);
    const w01 = (1 - p) * q;
    const w11 = p * q;
    out.seen[i] = w00 * data[at]! + w10 * data[at + 1]! + w01 * data[at + width]! + w11 * data[at + width + 1]!;
    out.gx[i] = w00 * dx[at]! + w10 * dx[at + 1]! + w01 * dx[at + width]! + w11 * dx[at + width + 1]!;
    out.gy[i] = w00 * dy[at]! + w10 * dy[at + 1]! + w01 * dy[at + width]! + w11 * dy[at + width + 1]!;
    out.inside[i] = 1;
    count++;
  }
  return count;
}

/** Levels that a residual may always reach: a few lamps in the night are the picture, not outliers of its dark. */
const NARROW = 14;
const WIDE = 50;

/** Tukey's biweight at 4.7 robust deviations, found from the median of the absolute residuals, or at `least` levels. */
function weigh(
  seen: Float32Array,
  fitted: Float32Array,
  inside: Float32Array,
  weights: Float32Array,
  least: number,
): void {
  const histogram = new Uint32Array(1024);
  let count = 0;
  for (let i = 0; i < seen.length; i++) {
    if (inside[i] === 0) continue;
    histogram[Math.min(1023, (Math.abs(seen[i]! - fitted[i]!) * 4) | 0)]!++;
    count++;
  }
  let run = 0;
  let bin = 0;
  while (bin < 1023 && run + histogram[bin]! < count / 2) run += histogram[bin++]!;
  const reach = Math.max(least, (4.7 * 1.4826 * (bin + 0.5)) / 4);
  for (let i = 0; i < seen.length; i++) {
    const t = (seen[i]! - fitted[i]!) / reach;
    const w = 1 - t * t;
    weights[i] = inside[i] === 0 || w <= 0 ? 0 : w * w;
  }
}

function accumulate(
  map: Similarity,
  samples: Samples,
  { seen, fitted, weights, gx, gy }: Omit<Seen, 'inside'> & { fitted: Float32Array; weights: Float32Array },
  radius: number,
): { normal: Float64Array; right: Float64Array; energy: number; mass: number } {
  const [a, b, c, d] = affineOf(map);
  const normal = new Float64Array(PARAMETERS * PARAMETERS);
  const right = new Float64Array(PARAMETERS);
  const row = new Float64Array(PARAMETERS);
  let energy = 0;
  let mass = 0;
  for (let i = 0; i < seen.length; i++) {
    const w = weights[i]!;
    if (w === 0) continue;
    const px = samples.x[i]! - map.centreX;
    const py = samples.y[i]! - map.centreY;
    const qx = (a * px + c * py) / radius;
    const qy = (b * px + d * py) / radius;
    const dx = gx[i]!;
    const dy = gy[i]!;
    row[0] = dx;
    row[1] = dy;
    row[2] = dx * qx + dy * qy;
    row[3] = dy * qx - dx * qy;
    row[4] = (fitted[i]! - 128) / 64;
    row[5] = 1;
    const residual = fitted[i]! - seen[i]!;
    energy += w * residual * residual;
    mass += w;
    for (let j = 0; j < PARAMETERS; j++) {
      const wj = w * row[j]!;
      right[j]! += wj * residual;
      for (let k = 0; k <= j; k++) normal[j * PARAMETERS + k]! += wj * row[k]!;
    }
  }
  for (let j = 0; j < PARAMETERS; j++) {
    for (let k = j + 1; k < PARAMETERS; k++) normal[j * PARAMETERS + k] = normal[k * PARAMETERS + j]!;
    // a whisper of damping keeps an even picture solvable; its uncertainty then says that nothing was measured
    normal[j * PARAMETERS + j]! += 1e-3;
  }
  return { normal, right, energy: energy + INVISIBLE * mass, mass };
}

function noGradient(
  map: Similarity,
  seen: Float32Array,
  fitted: Float32Array,
  inside: Float32Array,
  overlap: number,
): Refinement {
  const nothing = 1e6;
  return {
    map,
    varXX: nothing,
    varXY: 0,
    varYY: nothing,
    scaleDeviation: nothing,
    turnDeviation: nothing,
    likeness: correlate(seen, fitted, inside),
    variance: 0,
    overlap,
  };
}

function overlapShare(inside: Float32Array): number {
  let sum = 0;
  for (const value of inside) sum += value;
  return sum / Math.max(1, inside.length);
}

function correlate(one: Float32Array, other: Float32Array, inside: Float32Array): number {
  let [n, sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < one.length; i++) {
    if (inside[i] === 0) continue;
    const x = one[i]!;
    const y = other[i]!;
    n++;
    sx += x;
    sy += y;
    sxx += x * x;
    syy += y * y;
    sxy += x * y;
  }
  const vx = n * sxx - sx * sx;
  const vy = n * syy - sy * sy;
  // one level of noise in each keeps two even tints from correlating by chance
  return n === 0 ? 0 : (n * sxy - sx * sy) / Math.sqrt((vx + n * n) * (vy + n * n));
}

function clamp(value: number, most: number): number {
  return Math.max(-most, Math.min(most, value));
}
