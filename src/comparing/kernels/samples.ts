import type { Kernel } from '../../model/index.ts';
import { kernelOf, layOut } from '../../model/index.ts';
import { SAMPLES } from './samples-code.ts';

interface Exports {
  readonly memory: WebAssembly.Memory;
  readonly readPlane: Kernel<number>;
  readonly sumTones: Kernel<void>;
  readonly sumKnots: Kernel<void>;
  readonly applyCurve: Kernel<void>;
  readonly countResiduals: Kernel<number>;
  readonly weigh: Kernel<void>;
  readonly accumulate: Kernel<void>;
  readonly sumProducts: Kernel<void>;
}

const kernels = kernelOf<Exports>(SAMPLES);

const KNOTS = 17;
const PARAMETERS = 6;
const STEPS = 1024;

/** A plane that samples are read from; not to be changed while they are. */
export interface ReadPlane {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly top: number;
  readonly data: Float32Array;
}

/** Places with the level that one side has there. */
export interface Places {
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly level: Float32Array;
}

/** Samples in the kernel's memory, until others are put there; one number each. */
export interface Samples extends Places {
  readonly plane: ReadPlane;
  readonly count: number;
  /** What the plane shows there, and 1 where it shows anything; see `readPlane`. */
  readonly seen: Float32Array;
  readonly inside: Float32Array;
  /** Slopes of the plane, along and down: two numbers each. */
  readonly slopes: Float32Array;
  /** The levels with a tone curve applied; see `applyCurve`. */
  readonly fitted: Float32Array;
  /** 1 to begin with. */
  readonly weights: Float32Array;
}

interface Desk extends Samples {
  readonly planeAt: number;
  /** Numbers of 64 bits that kernels take and give, and those of `normal`. */
  readonly sums: Float64Array;
  readonly mass: Float64Array;
  readonly normal: Float64Array;
  readonly histogram: Uint32Array;
}

let onDesk: Desk | null = null;

function desk(samples: Samples): Desk {
  if (onDesk !== samples) throw new Error('these samples have left the kernel’s memory');
  return onDesk;
}

/** Puts samples and the plane that they are read from into the kernel's memory. */
export function putSamples({ x, y, level }: Places, plane: ReadPlane): Samples {
  const count = x.length;
  const bytes = count * 4;
  const { data } = plane;
  const { memory, at } = layOut(
    kernels().memory,
    ...[data.byteLength, bytes, bytes, bytes, bytes, bytes, bytes * 2, bytes, bytes],
    ...[KNOTS * 8, KNOTS * 8, PARAMETERS * PARAMETERS * 8, STEPS * 4],
  );
  const { buffer } = memory;
  const numbers = (place: number, length = count): Float32Array => new Float32Array(buffer, at[place], length);
  // A plane is read from many starts in turn: it lies first, where it stays.
  if (onDesk?.plane.data !== data) numbers(0, data.length).set(data);
  onDesk = {
    plane,
    planeAt: at[0]!,
    count,
    x: numbers(1),
    y: numbers(2),
    level: numbers(3),
    seen: numbers(4),
    inside: numbers(5),
    slopes: numbers(6, count * 2),
    fitted: numbers(7),
    weights: numbers(8),
    sums: new Float64Array(buffer, at[9], KNOTS),
    mass: new Float64Array(buffer, at[10], KNOTS),
    normal: new Float64Array(buffer, at[11], PARAMETERS * PARAMETERS),
    histogram: new Uint32Array(buffer, at[12], STEPS),
  };
  onDesk.x.set(x);
  onDesk.y.set(y);
  onDesk.level.set(level);
  onDesk.weights.fill(1);
  return onDesk;
}

/**
 * Reads the plane and its slopes (central differences, 0 at the rim) where a map says, straight between pixels. What lies
 * outside has no weight from then on.
 *
 * @param map  a to f of u = a x + c y + e, v = b x + d y + f, in pixels of the page
 * @returns how many samples lie on the plane
 */
export function readPlane(samples: Samples, map: readonly [number, number, number, number, number, number]): number {
  const { plane, planeAt, count, x, y, seen, inside, weights, slopes } = desk(samples);
  return kernels().readPlane(
    ...[planeAt, plane.width, plane.height, plane.left, plane.top],
    ...map,
    ...[count, x.byteOffset, y.byteOffset, seen.byteOffset, inside.byteOffset, weights.byteOffset, slopes.byteOffset],
  );
}

/** Sums over samples of weight w, level x and seen y. */
export interface ToneSums {
  /** Weights by the nearest of 17 knots, 16 levels apart. */
  readonly mass: Float64Array;
  /** Of w, w x, w y, w x x, w x y. */
  readonly sums: readonly [w: number, x: number, y: number, xx: number, xy: number];
}

/** Sums for a tone curve; `mass` is overwritten by the next call. */
export function sumTones(samples: Samples): ToneSums {
  const { count, level, seen, weights, mass, sums } = desk(samples);
  mass.fill(0);
  kernels().sumTones(
    ...[level.byteOffset, seen.byteOffset, weights.byteOffset, count, mass.byteOffset, sums.byteOffset],
  );
  const [w = 0, x = 0, y = 0, xx = 0, xy = 0] = sums;
  return { mass, sums: [w, x, y, xx, xy] };
}

/** What is seen, carried along a slope to the nearest knot, by weight: a sum a knot, overwritten by the next call. */
export function sumKnots(samples: Samples, slope: number): Float64Array {
  const { count, level, seen, weights, sums } = desk(samples);
  sums.fill(0);
  kernels().sumKnots(level.byteOffset, seen.byteOffset, weights.byteOffset, count, slope, sums.byteOffset);
  return sums;
}

/** Fits the levels by a curve of 17 knots, straight in between. */
export function applyCurve(samples: Samples, curve: Float64Array): void {
  const { count, level, fitted, sums } = desk(samples);
  sums.set(curve);
  kernels().applyCurve(sums.byteOffset, level.byteOffset, count, fitted.byteOffset);
}

/**
 * How many samples on the plane have which absolute residual, in steps of a quarter; 1023 and more in the last.
 *
 * @returns with how many there are; overwritten by the next call
 */
export function countResiduals(samples: Samples): { readonly histogram: Uint32Array; readonly found: number } {
  const { count, seen, fitted, inside, histogram } = desk(samples);
  histogram.fill(0);
  const places = [seen.byteOffset, fitted.byteOffset, inside.byteOffset, count, histogram.byteOffset];
  return { histogram, found: kernels().countResiduals(...places) };
}

/** Weights by Tukey's biweight of the residuals: 0 from `reach` on, and off the plane. */
export function weighResiduals(samples: Samples, reach: number): void {
  const { count, seen, fitted, inside, weights } = desk(samples);
  kernels().weigh(seen.byteOffset, fitted.byteOffset, inside.byteOffset, count, reach, weights.byteOffset);
}

/** Where the parameters of a map turn about, and the length that makes its scale and turn a shift. */
export interface About {
  /** a to d of the map. */
  readonly map: readonly [number, number, number, number];
  readonly centreX: number;
  readonly centreY: number;
  readonly radius: number;
}

/** Normal equations of shift right and down, scale, turn, tone and level. */
export interface NormalEquations {
  /** Six rows of six; what lies right of the diagonal has no meaning. */
  readonly normal: Float64Array;
  readonly right: Float64Array;
  /** Sums of weighted squared residuals, and of weights. */
  readonly energy: number;
  readonly mass: number;
}

/** Normal equations of all samples. */
export function accumulate(samples: Samples, { map, centreX, centreY, radius }: About): NormalEquations {
  const { count, x, y, seen, fitted, weights, slopes, normal, sums } = desk(samples);
  kernels().accumulate(
    ...[x.byteOffset, y.byteOffset, seen.byteOffset, fitted.byteOffset, weights.byteOffset, slopes.byteOffset, count],
    ...map,
    ...[centreX, centreY, radius, normal.byteOffset, sums.byteOffset],
  );
  return {
    normal: normal.slice(),
    right: sums.slice(0, PARAMETERS),
    energy: sums[PARAMETERS]!,
    mass: sums[PARAMETERS + 1]!,
  };
}

/** Of the samples on the plane, x seen and y fitted: how many, and sums of x, y, x x, y y, x y. */
export function sumProducts(
  samples: Samples,
): readonly [n: number, x: number, y: number, xx: number, yy: number, xy: number] {
  const { count, seen, fitted, inside, sums } = desk(samples);
  kernels().sumProducts(seen.byteOffset, fitted.byteOffset, inside.byteOffset, count, sums.byteOffset);
  const [n = 0, x = 0, y = 0, xx = 0, yy = 0, xy = 0] = sums;
  return [n, x, y, xx, yy, xy];
}
