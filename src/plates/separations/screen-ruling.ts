import type { Deg, Ppi } from '../../model/index.ts';

/** A regular screen: rows of dots an inch, and the direction of its rows, from 0 up to 90. */
export interface Screen {
  readonly rulingLpi: number;
  readonly angleDeg: Deg;
}

/** A square of a plate at its own resolution: 255 where there is ink, row by row. */
export interface PlateSquare {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Coarser than any screen that is called one, and finer than any that a plate holds. Common practice, no source. */
const RULINGS_LPI = { least: 30, most: 500 };
/** Of all that varies in the square, the dots' own waves make up at least this; without a screen it is far less. */
const LEAST_SHARE = 0.05;
/** A screen has waves both ways; the weaker pair is at least this part of the stronger. */
const BOTH_WAYS = 0.15;

/**
 * Estimates a screen's ruling from an even part of a plate: the strongest wave among all, where another of the same length
 * stands across it.
 *
 * @param square  its side a power of two
 * @returns null where nothing repeats regularly both ways: no screen, one of scattered dots, or no tone to see it in
 * @source the two-dimensional discrete Fourier transform (Cooley and Tukey 1965); a screen's waves stand at its ruling
 */
export function estimateScreen(square: PlateSquare, ppi: Ppi): Screen | null {
  const { width: side, data } = square;
  const power = powerOf(data, side);
  const toLpi = ppi / side;
  const half = side / 2;
  const lpiAt = (u: number, v: number): number => Math.hypot(u, v) * toLpi;
  let [total, best] = [0, { u: 0, v: 0, power: 0 }];
  for (let v = -half + 1; v < half; v++) {
    for (let u = 0; u < half; u++) {
      if (u === 0 && v <= 0) continue;
      const value = power(u, v);
      total += value;
      const lpi = lpiAt(u, v);
      if (lpi < RULINGS_LPI.least || lpi > RULINGS_LPI.most) continue;
      if (value > best.power) best = { u, v, power: value };
    }
  }
  if (best.power === 0) return null;
  // small dots have overtones nearly as strong as their ground wave
  best = lowestOf(power, best, half, lpiAt);
  const own = around(power, best.u, best.v);
  const crossed = around(power, -best.v, best.u);
  if ((own + crossed) / total < LEAST_SHARE || crossed < BOTH_WAYS * own) return null;
  const { u, v } = refined(power, best);
  const angle = (Math.atan2(v, u) * 180) / Math.PI;
  return { rulingLpi: lpiAt(u, v), angleDeg: ((angle % 90) + 90) % 90 };
}

const NEARLY_AS_STRONG = 0.3;

/** Of all waves that are nearly as strong as the strongest, the longest; a peak, not a flank of one. */
function lowestOf(
  power: Power,
  strongest: { readonly u: number; readonly v: number; readonly power: number },
  half: number,
  lpiAt: (u: number, v: number) => number,
): { u: number; v: number; power: number } {
  let found = { ...strongest };
  for (let v = -half + 1; v < half; v++) {
    for (let u = 0; u < half; u++) {
      const value = power(u, v);
      const lpi = lpiAt(u, v);
      if (value < NEARLY_AS_STRONG * strongest.power || lpi < RULINGS_LPI.least || lpi >= lpiAt(found.u, found.v))
        continue;
      const isPeak = [-1, 0, 1].every((y) => [-1, 0, 1].every((x) => power(u + x, v + y) <= value));
      if (isPeak) found = { u, v, power: value };
    }
  }
  return found;
}

type Power = (u: number, v: number) => number;

/** The strongest value and its neighbours: a wave rarely falls on whole cells. */
function around(power: Power, u: number, v: number): number {
  let sum = 0;
  for (let y = v - 1; y <= v + 1; y++) for (let x = u - 1; x <= u + 1; x++) sum += power(x, y);
  return sum;
}

function refined(
  power: Power,
  { u, v }: { readonly u: number; readonly v: number },
): { readonly u: number; readonly v: number } {
  let [sum, sumU, sumV] = [0, 0, 0];
  for (let y = v - 1; y <= v + 1; y++) {
    for (let x = u - 1; x <= u + 1; x++) {
      const value = power(x, y);
      sum += value;
      sumU += value * x;
      sumV += value * y;
    }
  }
  return { u: sumU / sum, v: sumV / sum };
}

/** Power by wave numbers across and down, from a window that fades to its edges. */
function powerOf(data: Uint8Array, side: number): Power {
  const re = new Float64Array(side * side);
  const im = new Float64Array(side * side);
  let mean = 0;
  for (let at = 0; at < data.length; at++) mean += data[at]!;
  mean /= data.length;
  const fade = Float64Array.from({ length: side }, (_, at) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (at + 0.5)) / side));
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) re[y * side + x] = (data[y * side + x]! - mean) * fade[x]! * fade[y]!;
  }
  const waves = wavesOf(side);
  for (let y = 0; y < side; y++) transform(re, im, y * side, 1, waves);
  for (let x = 0; x < side; x++) transform(re, im, x, side, waves);
  const wrap = (at: number): number => ((at % side) + side) % side;
  return (u, v) => {
    const at = wrap(v) * side + wrap(u);
    return re[at]! ** 2 + im[at]! ** 2;
  };
}

/** One turn in so many steps, each asked for thousands of times. */
interface Waves {
  readonly length: number;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

function wavesOf(length: number): Waves {
  const turn = (of: (angle: number) => number): Float64Array =>
    Float64Array.from({ length: length / 2 }, (_, at) => of((-2 * Math.PI * at) / length));
  return { length, cos: turn(Math.cos), sin: turn(Math.sin) };
}

/** In place, over `length` values that lie `stride` apart. */
function transform(
  re: Float64Array,
  im: Float64Array,
  from: number,
  stride: number,
  { length, cos: cosines, sin: sines }: Waves,
): void {
  for (let at = 1, mirrored = 0; at < length; at++) {
    let bit = length >> 1;
    for (; mirrored & bit; bit >>= 1) mirrored ^= bit;
    mirrored ^= bit;
    if (at < mirrored) {
      swap(re, from + at * stride, from + mirrored * stride);
      swap(im, from + at * stride, from + mirrored * stride);
    }
  }
  for (let size = 2; size <= length; size <<= 1) {
    const steps = length / size;
    for (let start = 0; start < length; start += size) {
      for (let k = 0; k < size / 2; k++) {
        const [cos, sin] = [cosines[k * steps]!, sines[k * steps]!];
        const a = from + (start + k) * stride;
        const b = a + (size / 2) * stride;
        const [real, imaginary] = [re[b]! * cos - im[b]! * sin, re[b]! * sin + im[b]! * cos];
        re[b] = re[a]! - real;
        im[b] = im[a]! - imaginary;
        re[a]! += real;
        im[a]! += imaginary;
      }
    }
  }
}

function swap(values: Float64Array, one: number, other: number): void {
  const kept = values[one]!;
  values[one] = values[other]!;
  values[other] = kept;
}
