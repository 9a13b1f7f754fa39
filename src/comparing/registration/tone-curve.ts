import type { Samples } from '../kernels/samples.ts';
import { sumKnots, sumTones } from '../kernels/samples.ts';

const KNOTS = 17;
const STEP = 256 / (KNOTS - 1);

/** A tone curve: levels of the revision at 17 evenly spaced levels 0 … 256 of the dummy, straight in between. */
export type ToneCurve = Float64Array;

/**
 * The curve that carries the dummy's levels to the revision's: the weighted mean of each level's neighbourhood, drawn
 * towards a straight line where few pixels speak. Not forced to rise, so that an inverted picture can be followed too.
 *
 * @param samples  read; those of weight 0 are left out
 */
export function fitToneCurve(samples: Samples): ToneCurve {
  const {
    mass,
    sums: [s, sx, sy, sxx, sxy],
  } = sumTones(samples);
  const spread = s * sxx - sx * sx;
  const slope = spread > 1e-6 * s * s ? (s * sxy - sx * sy) / spread : 1;
  const offset = s > 0 ? (sy - slope * sx) / s : 0;
  // each pixel speaks for its knot along the slope: a band whose levels crowd at one side is not biased by that
  const sum = sumKnots(samples, slope);
  const prior = 0.002 * s + 1e-9;
  const raw = new Float64Array(KNOTS);
  for (let k = 0; k < KNOTS; k++) raw[k] = (sum[k]! + prior * (slope * k * STEP + offset)) / (mass[k]! + prior);
  const curve = new Float64Array(KNOTS);
  for (let k = 0; k < KNOTS; k++) {
    const before = k > 0 ? raw[k - 1]! : 2 * raw[0]! - raw[1]!;
    const after = k < KNOTS - 1 ? raw[k + 1]! : 2 * raw[k]! - raw[k - 1]!;
    curve[k] = 0.25 * before + 0.5 * raw[k]! + 0.25 * after;
  }
  return curve;
}
