// AssemblyScript. What a colour map makes of colours, and sums to fit one; `npm run kernels` makes colour-map-code.ts of it.
// Colours are L*, a*, b* of 32 bits each; a map is 81 numbers of 64 bits: twenty coefficients for each of the three, then 21
// knots of L*. All arithmetic is in 64 bits, sums are added up term by term and colour by colour. The caller says where in
// memory everything lies and leaves 64 bytes free behind it.

const TERMS: i32 = 20;

/** The twenty products of two colours up to the third degree, side by side, to `terms`. */
// @ts-ignore: decorator
@inline
function spread(l: v128, a: v128, b: v128, terms: usize): void {
  const x = f64x2.div(f64x2.sub(l, f64x2.splat(50)), f64x2.splat(50));
  const y = f64x2.div(a, f64x2.splat(60));
  const z = f64x2.div(b, f64x2.splat(60));
  const xx = f64x2.mul(x, x);
  const yy = f64x2.mul(y, y);
  const zz = f64x2.mul(z, z);
  const xy = f64x2.mul(x, y);
  v128.store(terms, f64x2.splat(1));
  v128.store(terms, x, 16);
  v128.store(terms, y, 32);
  v128.store(terms, z, 48);
  v128.store(terms, xx, 64);
  v128.store(terms, yy, 80);
  v128.store(terms, zz, 96);
  v128.store(terms, xy, 112);
  v128.store(terms, f64x2.mul(x, z), 128);
  v128.store(terms, f64x2.mul(y, z), 144);
  v128.store(terms, f64x2.mul(xx, x), 160);
  v128.store(terms, f64x2.mul(yy, y), 176);
  v128.store(terms, f64x2.mul(zz, z), 192);
  v128.store(terms, f64x2.mul(xx, y), 208);
  v128.store(terms, f64x2.mul(xx, z), 224);
  v128.store(terms, f64x2.mul(yy, x), 240);
  v128.store(terms, f64x2.mul(yy, z), 256);
  v128.store(terms, f64x2.mul(zz, x), 272);
  v128.store(terms, f64x2.mul(zz, y), 288);
  v128.store(terms, f64x2.mul(xy, z), 304);
}

/** One channel of two colours, `channel` bytes into each. */
// @ts-ignore: decorator
@inline
function pairOf(at: usize, channel: usize): v128 {
  const first = v128.load32_zero(at + channel);
  return f64x2.promote_low_f32x4(v128.load32_lane(at + channel + 12, first, 1));
}

/** What a map makes of colours. */
export function mapColours(map: usize, lab: usize, count: i32, terms: usize, out: usize): void {
  for (let i = 0; i < count; i += 2) {
    const at = lab + i * 12;
    spread(pairOf(at, 0), pairOf(at, 4), pairOf(at, 8), terms);
    let l = f64x2.splat(0);
    let a = f64x2.splat(0);
    let b = f64x2.splat(0);
    for (let k = 0; k < TERMS; k++) {
      const term = v128.load(terms + k * 16);
      const by = map + k * 8;
      l = f64x2.add(l, f64x2.mul(v128.load64_splat(by), term));
      a = f64x2.add(a, f64x2.mul(v128.load64_splat(by, 160), term));
      b = f64x2.add(b, f64x2.mul(v128.load64_splat(by, 320), term));
    }
    const ls = f32x4.demote_f64x2_zero(l);
    const as = f32x4.demote_f64x2_zero(a);
    const bs = f32x4.demote_f64x2_zero(b);
    const to = out + i * 12;
    store<f32>(to, corrected(map, load<f32>(at), f32x4.extract_lane(ls, 0)));
    store<f32>(to, f32x4.extract_lane(as, 0), 4);
    store<f32>(to, f32x4.extract_lane(bs, 0), 8);
    store<f32>(to, corrected(map, load<f32>(at, 12), f32x4.extract_lane(ls, 1)), 12);
    store<f32>(to, f32x4.extract_lane(as, 1), 16);
    store<f32>(to, f32x4.extract_lane(bs, 1), 20);
  }
}

/** L* with the correction of tones, which are straight between their knots. */
// @ts-ignore: decorator
@inline
function corrected(map: usize, before: f32, mapped: f32): f32 {
  const last: f64 = 21 - 1.0001;
  const place: f64 = <f64>before / 5;
  const tone: f64 = place > 0 ? (place < last ? place : last) : 0;
  const knot = <i32>tone;
  const part = tone - <f64>knot;
  const by = map + 480 + knot * 8;
  const value: f64 = <f64>mapped + ((1 - part) * load<f64>(by) + part * load<f64>(by, 8));
  return <f32>value;
}

/**
 * Adds weighted products of the terms of each colour to `normal` (twenty rows of twenty; what lies right of the diagonal has
 * no meaning), and of the terms with the colour that it became to `right` (three rows of twenty). Returns the sum of weights.
 */
export function sumEquations(
  lab: usize, became: usize, weights: usize, count: i32, terms: usize, normal: usize, right: usize
): f64 {
  let mass: f64 = 0;
  const single = terms + TERMS * 16;
  for (let i = 0; i < count; i++) {
    const w = <f64>load<f32>(weights + i * 4);
    if (w == 0) continue;
    mass += w;
    const at = lab + i * 12;
    spread(one(at, 0), one(at, 4), one(at, 8), terms);
    for (let k = 0; k < TERMS; k += 2) {
      v128.store(single + k * 8, v128.shuffle<f64>(v128.load(terms + k * 16), v128.load(terms + k * 16, 16), 0, 2));
    }
    const l = one(became + i * 12, 0);
    const a = one(became + i * 12, 4);
    const b = one(became + i * 12, 8);
    const weight = f64x2.splat(w);
    for (let j = 0; j < TERMS; j += 2) {
      const to = right + j * 8;
      const weighted = f64x2.mul(weight, v128.load(single + j * 8));
      v128.store(to, f64x2.add(v128.load(to), f64x2.mul(weighted, l)));
      v128.store(to, f64x2.add(v128.load(to, 160), f64x2.mul(weighted, a)), 160);
      v128.store(to, f64x2.add(v128.load(to, 320), f64x2.mul(weighted, b)), 320);
      const first = v128.shuffle<f64>(weighted, weighted, 0, 0);
      const second = v128.shuffle<f64>(weighted, weighted, 1, 1);
      const row = normal + j * 160;
      for (let k = 0; k <= j; k += 2) {
        const term = v128.load(single + k * 8);
        const here = row + k * 8;
        v128.store(here, f64x2.add(v128.load(here), f64x2.mul(first, term)));
        v128.store(here, f64x2.add(v128.load(here, 160), f64x2.mul(second, term)), 160);
      }
    }
  }
  return mass;
}

/** One channel of one colour, twice. */
// @ts-ignore: decorator
@inline
function one(at: usize, channel: usize): v128 {
  return f64x2.splat(<f64>load<f32>(at + channel));
}
