import { mapColours, sumEquations } from '../kernels/colour-map.ts';
import { invertSymmetric, multiplyVector } from '../registration/solve.ts';

const TERMS = 20;
/** Knots of the tone correction, at L* 0, 5, … 100. */
const KNOTS = 21;
const KNOT_STEP = 100 / (KNOTS - 1);

/**
 * A smooth map of colours, Lab to Lab: a polynomial of the third degree, and a correction of L* by L*, since the ends of a
 * tone scale bend more sharply than a cubic (black on uncoated stock). It stands for what a conversion does to every
 * picture of a file alike: another gamut, another rendering intent, a tone compression.
 * 81 numbers: 20 coefficients for each of L*, a*, b*, then 21 knots of the correction.
 */
export type ColourMap = Float64Array;

/** The map that changes nothing. */
export const UNCHANGED: ColourMap = makeUnchanged();

/** Colours of the same places on both sides, three numbers L*, a*, b* a place. */
export interface ColourPairs {
  readonly dummy: Float32Array;
  readonly revision: Float32Array;
  /** One number a place; 0 leaves it out. */
  readonly weights: Float32Array;
}

/**
 * The map that carries the dummy's colours to the revision's, drawn towards a prior where few colours speak. It starts at
 * the prior and takes in what lies near, so that a retouched patch of a colour of its own is not followed.
 *
 * @param prior  what holds where nothing is seen
 * @param pull   how strongly it holds, as a share of all places
 * @param reach  how far from the prior (Lab distance) a place may lie at first
 */
export function fitColourMap(pairs: ColourPairs, prior: ColourMap, pull: number, reach: number): ColourMap {
  const weights = new Float32Array(pairs.weights.length);
  let map = prior;
  const few = thinned(pairs);
  for (const [round, share] of NARROWING.entries()) {
    if (round < ROUNDS_OF_A_FEW && few !== pairs) {
      const fewWeights = new Float32Array(few.weights.length);
      reweigh(few, map, Math.max(LEAST_REACH, share * reach), fewWeights);
      map = solveOnce(few, fewWeights, prior, pull) ?? map;
      continue;
    }
    reweigh(pairs, map, Math.max(LEAST_REACH, share * reach), weights);
    const next = solveOnce(pairs, weights, prior, pull);
    if (next === null) return map;
    map = next;
  }
  correctTones(pairs, map);
  return map;
}

/** A tone correction is a matter of the conversion; more than this at one end is a change of the picture. */
const MOST_CORRECTION = 10;
/** What is farther away became another colour. */
const ELSEWHERE = 1.5 * MOST_CORRECTION;
/** A band of tones with fewer of the places than this does not speak for itself. */
const SPEAKING_SHARE = 0.001;

/** Sets the knots to the median of what the polynomial leaves of L* in each band of tones. */
function correctTones(pairs: ColourPairs, map: ColourMap): void {
  const bands = Array.from({ length: KNOTS }, (): number[] => []);
  map.fill(0, 3 * TERMS);
  const mapped = mapColours(map, pairs.dummy);
  for (let i = 0, at = 0; i < pairs.weights.length; i++, at += 3) {
    if (pairs.weights[i] === 0) continue;
    const l = pairs.dummy[at]!;
    const left = pairs.revision[at]! - mapped[at]!;
    // what became another colour altogether was retouched: its band of tones does not follow it
    const [a, b] = [pairs.revision[at + 1]! - mapped[at + 1]!, pairs.revision[at + 2]! - mapped[at + 2]!];
    if (left * left + a * a + b * b > ELSEWHERE ** 2) {
      continue;
    }
    bands[Math.max(0, Math.min(KNOTS - 1, Math.round(l / KNOT_STEP)))]!.push(left);
  }
  const least = Math.max(3, SPEAKING_SHARE * pairs.weights.length);
  const medians = bands.map((band) => {
    if (band.length < least) return null;
    const middle = band.sort(ascending)[band.length >> 1]!;
    return Math.max(-MOST_CORRECTION, Math.min(MOST_CORRECTION, middle));
  });
  for (let knot = 0; knot < KNOTS; knot++) {
    const before = medians.slice(0, knot + 1).findLast((value) => value !== null);
    const after = medians.slice(knot).find((value) => value !== null);
    map[3 * TERMS + knot] = medians[knot] ?? ((before ?? after ?? 0) + (after ?? before ?? 0)) / 2;
  }
}

const ascending = (one: number, other: number): number => one - other;

const NARROWING = [1, 0.8, 0.6, 0.45, 0.3];
/** The first rounds only find the neighbourhood: some of the places are enough for them. */
const ROUNDS_OF_A_FEW = 3;
const A_FEW = 1500;

function thinned(pairs: ColourPairs): ColourPairs {
  const stride = Math.floor(pairs.weights.length / A_FEW);
  if (stride < 2) return pairs;
  const count = Math.ceil(pairs.weights.length / stride);
  const [dummy, revision] = [new Float32Array(count * 3), new Float32Array(count * 3)];
  const weights = new Float32Array(count);
  for (let i = 0; i < count; i++) {
    const from = i * stride * 3;
    dummy.set(pairs.dummy.subarray(from, from + 3), i * 3);
    revision.set(pairs.revision.subarray(from, from + 3), i * 3);
    weights[i] = pairs.weights[i * stride]!;
  }
  return { dummy, revision, weights };
}
const LEAST_REACH = 4;

/** Writes what the map makes of one colour to `out` at `at`. */
export function applyColourMap(map: ColourMap, l: number, a: number, b: number, out: Float32Array, at: number): void {
  spread(l, a, b);
  for (let channel = 0; channel < 3; channel++) {
    let sum = 0;
    const from = channel * TERMS;
    for (let k = 0; k < TERMS; k++) sum += map[from + k]! * TERM[k]!;
    out[at + channel] = sum;
  }
  const tone = Math.max(0, Math.min(KNOTS - 1.0001, l / KNOT_STEP));
  const knot = tone | 0;
  const part = tone - knot;
  out[at]! += (1 - part) * map[3 * TERMS + knot]! + part * map[3 * TERMS + knot + 1]!;
}

const TERM = new Float64Array(TERMS);

/** The twenty products of a colour up to the third degree, scaled to about 1. */
function spread(l: number, a: number, b: number): void {
  const x = (l - 50) / 50;
  const y = a / 60;
  const z = b / 60;
  TERM[0] = 1;
  TERM[1] = x;
  TERM[2] = y;
  TERM[3] = z;
  TERM[4] = x * x;
  TERM[5] = y * y;
  TERM[6] = z * z;
  TERM[7] = x * y;
  TERM[8] = x * z;
  TERM[9] = y * z;
  TERM[10] = x * x * x;
  TERM[11] = y * y * y;
  TERM[12] = z * z * z;
  TERM[13] = x * x * y;
  TERM[14] = x * x * z;
  TERM[15] = y * y * x;
  TERM[16] = y * y * z;
  TERM[17] = z * z * x;
  TERM[18] = z * z * y;
  TERM[19] = x * y * z;
}

function makeUnchanged(): ColourMap {
  const map = new Float64Array(3 * TERMS + KNOTS);
  map[0] = 50;
  map[1] = 50;
  map[TERMS + 2] = 60;
  map[2 * TERMS + 3] = 60;
  return map;
}

function solveOnce(pairs: ColourPairs, weights: Float32Array, prior: ColourMap, pull: number): ColourMap | null {
  const { normal, right, mass } = sumEquations(pairs.dummy, pairs.revision, weights);
  if (mass === 0) return null;
  for (let j = 0; j < TERMS; j++) {
    // higher degrees are held harder: they are the ones that could follow a single retouched patch
    const hold = mass * pull * (j === 0 ? 0.1 : j < 4 ? 0.3 : j < 10 ? 1 : 2) + 1e-6;
    normal[j * TERMS + j]! += hold;
    for (let channel = 0; channel < 3; channel++) right[channel]![j]! += hold * prior[channel * TERMS + j]!;
    for (let k = j + 1; k < TERMS; k++) normal[j * TERMS + k] = normal[k * TERMS + j]!;
  }
  const inverse = invertSymmetric(normal, TERMS);
  if (inverse === null) return null;
  const map = new Float64Array(3 * TERMS + KNOTS);
  right.forEach((vector, channel) => map.set(multiplyVector(inverse, vector, TERMS), channel * TERMS));
  return map;
}

/** Tukey's biweight on the distance from the map; never so narrow that most places fall silent. */
function reweigh(pairs: ColourPairs, map: ColourMap, least: number, weights: Float32Array): void {
  const count = weights.length;
  const distance = new Float32Array(count);
  const histogram = new Float64Array(512);
  const mapped = mapColours(map, pairs.dummy);
  let speaking = 0;
  for (let i = 0, at = 0; i < count; i++, at += 3) {
    if (pairs.weights[i] === 0) continue;
    const d = Math.hypot(
      pairs.revision[at]! - mapped[at]!,
      pairs.revision[at + 1]! - mapped[at + 1]!,
      pairs.revision[at + 2]! - mapped[at + 2]!,
    );
    distance[i] = d;
    histogram[Math.min(511, (d * 8) | 0)]! += pairs.weights[i]!;
    speaking += pairs.weights[i]!;
  }
  let run = 0;
  let bin = 0;
  while (bin < 511 && run + histogram[bin]! < speaking / 2) run += histogram[bin++]!;
  const reach = Math.max(least, (4 * (bin + 0.5)) / 8);
  for (let i = 0; i < count; i++) {
    const t = distance[i]! / reach;
    weights[i] = pairs.weights[i] === 0 || t >= 1 ? 0 : pairs.weights[i]! * (1 - t * t) ** 2;
  }
}
