const KNOTS = 17;
const STEP = 256 / (KNOTS - 1);

/** A tone curve: levels of the revision at 17 evenly spaced levels 0 … 256 of the dummy, straight in between. */
export type ToneCurve = Float64Array;

/** What a tone curve makes of a level 0 … 255. */
export function applyToneCurve(curve: ToneCurve, level: number): number {
  const at = level / STEP;
  const knot = at >= KNOTS - 1 ? KNOTS - 2 : at <= 0 ? 0 : at | 0;
  const part = at - knot;
  return curve[knot]! * (1 - part) + curve[knot + 1]! * part;
}

/**
 * The curve that carries the dummy's levels to the revision's: the weighted mean of each level's neighbourhood, drawn
 * towards a straight line where few pixels speak. Not forced to rise, so that an inverted picture can be followed too.
 *
 * @param levels    the dummy's levels, 0 … 255
 * @param targets   the revision's levels at the same places
 * @param weights   0 leaves a place out
 */
export function fitToneCurve(levels: Float32Array, targets: Float32Array, weights: Float32Array): ToneCurve {
  const sum = new Float64Array(KNOTS);
  const mass = new Float64Array(KNOTS);
  let [s, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  for (let i = 0; i < levels.length; i++) {
    const w = weights[i]!;
    if (w === 0) continue;
    const level = levels[i]!;
    const target = targets[i]!;
    const knot = Math.round(level / STEP);
    mass[knot]! += w;
    s += w;
    sx += w * level;
    sy += w * target;
    sxx += w * level * level;
    sxy += w * level * target;
  }
  const spread = s * sxx - sx * sx;
  const slope = spread > 1e-6 * s * s ? (s * sxy - sx * sy) / spread : 1;
  const offset = s > 0 ? (sy - slope * sx) / s : 0;
  // each pixel speaks for its knot along the slope: a band whose levels crowd at one side is not biased by that
  for (let i = 0; i < levels.length; i++) {
    const w = weights[i]!;
    if (w === 0) continue;
    const knot = Math.round(levels[i]! / STEP);
    sum[knot]! += w * (targets[i]! - slope * (levels[i]! - knot * STEP));
  }
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
