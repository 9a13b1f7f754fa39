// AssemblyScript. Loops over samples of a plane that another is registered to; `npm run kernels` makes samples-code.ts of it.
// Numbers in memory have 32 bits where nothing else is said; all arithmetic is in 64 bits, sums are added up sample by
// sample, several sums side by side. The caller says where in memory everything lies.

/** Half the difference, as 32 bits: of two such numbers it is the same whether it is rounded once or twice. */
// @ts-ignore: decorator
@inline
function halfApart(more: v128, less: v128): v128 {
  return f32x4.mul(f32x4.sub(more, less), f32x4.splat(0.5));
}

// @ts-ignore: decorator
@inline
function wide(low: v128): v128 {
  return f64x2.promote_low_f32x4(low);
}

/** Slopes along and down at a pixel, side by side; 0 at the rim. */
function slopesAt(plane: usize, width: i32, height: i32, column: i32, row: i32): v128 {
  if (column < 1 || row < 1 || column >= width - 1 || row >= height - 1) return f64x2.splat(0);
  const at = plane + (row * width + column) * 4;
  const along = (load<f32>(at + 4) - load<f32>(at - 4)) * 0.5;
  const down = (load<f32>(at + width * 4) - load<f32>(at - width * 4)) * 0.5;
  return f64x2.replace_lane(f64x2.splat(<f64>along), 1, <f64>down);
}

/**
 * Reads a plane and its slopes where a map says, between its pixels; what lies outside is not `inside`, and its weight
 * becomes 0. `slopes` gets two numbers a sample. Returns how many are inside.
 */
export function readPlane(
  plane: usize, width: i32, height: i32, left: f64, top: f64, a: f64, b: f64, c: f64, d: f64, e: f64, f: f64, count: i32,
  xs: usize, ys: usize, seen: usize, inside: usize, weights: usize, slopes: usize
): i32 {
  const lastX = <f64>(width - 1);
  const lastY = <f64>(height - 1);
  const line = width * 4;
  let found = 0;
  for (let i = 0; i < count; i++) {
    const to = i * 4;
    const x = <f64>load<f32>(xs + to);
    const y = <f64>load<f32>(ys + to);
    const u = a * x + c * y + e - left - 0.5;
    const v = b * x + d * y + f - top - 0.5;
    if (!(u >= 0 && v >= 0 && u < lastX && v < lastY)) {
      store<f32>(inside + to, 0);
      store<f32>(seen + to, 0);
      store<f32>(weights + to, 0);
      continue;
    }
    const column = <i32>u;
    const row = <i32>v;
    const p = u - <f64>column;
    const q = v - <f64>row;
    const w00 = (1 - p) * (1 - q);
    const w10 = p * (1 - q);
    const w01 = (1 - p) * q;
    const w11 = p * q;
    const at = plane + (row * width + column) * 4;
    const level: f64 =
      w00 * <f64>load<f32>(at) + w10 * <f64>load<f32>(at, 4) + w01 * <f64>load<f32>(at + line) +
      w11 * <f64>load<f32>(at + line, 4);
    store<f32>(seen + to, <f32>level);
    store<f32>(inside + to, 1);
    let s00: v128;
    let s10: v128;
    let s01: v128;
    let s11: v128;
    if (column > 0 && row > 0 && column < width - 2 && row < height - 2) {
      const above = v128.load(at - line);
      const here = v128.load(at - 4);
      const under = v128.load(at + line - 4);
      const below = v128.load(at + 2 * line);
      // Along at both pixels of each row, then down at both: 0 and 1 of each.
      const alongUpper = halfApart(v128.shuffle<f32>(here, here, 2, 3, 2, 3), here);
      const alongLower = halfApart(v128.shuffle<f32>(under, under, 2, 3, 2, 3), under);
      const downUpper = halfApart(v128.shuffle<f32>(under, under, 1, 2, 1, 2), above);
      const downLower = halfApart(below, v128.shuffle<f32>(here, here, 1, 2, 1, 2));
      const upper = v128.shuffle<f32>(alongUpper, downUpper, 0, 4, 1, 5);
      const lower = v128.shuffle<f32>(alongLower, downLower, 0, 4, 1, 5);
      s00 = wide(upper);
      s10 = wide(v128.shuffle<f32>(upper, upper, 2, 3, 2, 3));
      s01 = wide(lower);
      s11 = wide(v128.shuffle<f32>(lower, lower, 2, 3, 2, 3));
    } else {
      s00 = slopesAt(plane, width, height, column, row);
      s10 = slopesAt(plane, width, height, column + 1, row);
      s01 = slopesAt(plane, width, height, column, row + 1);
      s11 = slopesAt(plane, width, height, column + 1, row + 1);
    }
    const sum = f64x2.add(
      f64x2.add(
        f64x2.add(f64x2.mul(f64x2.splat(w00), s00), f64x2.mul(f64x2.splat(w10), s10)), f64x2.mul(f64x2.splat(w01), s01)
      ),
      f64x2.mul(f64x2.splat(w11), s11)
    );
    v128.store64_lane(slopes + i * 8, f32x4.demote_f64x2_zero(sum), 0);
    found += 1;
  }
  return found;
}

/**
 * Weights w by the nearest of 17 knots of their level x, 16 levels apart, to `mass`; sums of w, w x, w y, w x x, w x y to
 * `sums` (64 bits), y what is seen.
 */
export function sumTones(levels: usize, seen: usize, weights: usize, count: i32, mass: usize, sums: usize): void {
  let s: f64 = 0;
  let ofX: f64 = 0;
  let ofY: f64 = 0;
  let ofXX: f64 = 0;
  let ofXY: f64 = 0;
  for (let i = 0; i < count; i++) {
    const at = i * 4;
    const w = <f64>load<f32>(weights + at);
    if (w == 0) continue;
    const level = <f64>load<f32>(levels + at);
    const target = <f64>load<f32>(seen + at);
    const knot = mass + nearestKnot(level) * 8;
    store<f64>(knot, load<f64>(knot) + w);
    s += w;
    ofX += w * level;
    ofY += w * target;
    ofXX += w * level * level;
    ofXY += w * level * target;
  }
  store<f64>(sums, s);
  store<f64>(sums, ofX, 8);
  store<f64>(sums, ofY, 16);
  store<f64>(sums, ofXX, 24);
  store<f64>(sums, ofXY, 32);
}

// @ts-ignore: decorator
@inline
function nearestKnot(level: f64): i32 {
  return <i32>(level / 16 + 0.5);
}

/** What is seen, carried along a slope to the nearest knot of its level, added up to `sums` (64 bits) by its weight. */
export function sumKnots(levels: usize, seen: usize, weights: usize, count: i32, slope: f64, sums: usize): void {
  for (let i = 0; i < count; i++) {
    const at = i * 4;
    const w = <f64>load<f32>(weights + at);
    if (w == 0) continue;
    const level = <f64>load<f32>(levels + at);
    const knot = nearestKnot(level);
    const to = sums + knot * 8;
    store<f64>(to, load<f64>(to) + w * (<f64>load<f32>(seen + at) - slope * (level - <f64>knot * 16)));
  }
}

/** Levels along a curve of 17 knots (64 bits) to `fitted`, straight in between and beyond. */
export function applyCurve(curve: usize, levels: usize, count: i32, fitted: usize): void {
  for (let i = 0; i < count; i++) {
    const at = <f64>load<f32>(levels + i * 4) / 16;
    const knot = at >= 16 ? 15 : at <= 0 ? 0 : <i32>at;
    const part = at - <f64>knot;
    const value: f64 = load<f64>(curve + knot * 8) * (1 - part) + load<f64>(curve + knot * 8, 8) * part;
    store<f32>(fitted + i * 4, <f32>value);
  }
}

/** Counts residuals inside in steps of a quarter, 1023 and more in the last (32 bits each). Returns how many there are. */
export function countResiduals(seen: usize, fitted: usize, inside: usize, count: i32, histogram: usize): i32 {
  let found = 0;
  for (let i = 0; i < count; i++) {
    const at = i * 4;
    if (load<f32>(inside + at) == 0) continue;
    const apart = abs<f64>(<f64>load<f32>(seen + at) - <f64>load<f32>(fitted + at));
    const to = histogram + (apart < 256 ? <i32>(apart * 4) : 1023) * 4;
    store<u32>(to, load<u32>(to) + 1);
    found += 1;
  }
  return found;
}

/** Tukey's biweight of the residuals inside: 0 from `reach` on. */
export function weigh(seen: usize, fitted: usize, inside: usize, count: i32, reach: f64, weights: usize): void {
  for (let i = 0; i < count; i++) {
    const at = i * 4;
    const t = (<f64>load<f32>(seen + at) - <f64>load<f32>(fitted + at)) / reach;
    const w = 1 - t * t;
    const weight: f64 = load<f32>(inside + at) == 0 || w <= 0 ? 0 : w * w;
    store<f32>(weights + at, <f32>weight);
  }
}

/**
 * Normal equations of six parameters (shift right and down, scale, turn, tone, level), 64 bits each: to `normal` six rows of
 * six, of which what lies right of the diagonal has no meaning, to `right` the six of the residuals, then the sums of
 * weighted squared residuals and of weights.
 */
export function accumulate(
  xs: usize, ys: usize, seen: usize, fitted: usize, weights: usize, slopes: usize, count: i32, a: f64, b: f64, c: f64,
  d: f64, centreX: f64, centreY: f64, radius: f64, normal: usize, right: usize
): void {
  let n0 = f64x2.splat(0);
  let n1 = f64x2.splat(0);
  let n2 = f64x2.splat(0);
  let n2b = f64x2.splat(0);
  let n3 = f64x2.splat(0);
  let n3b = f64x2.splat(0);
  let n4 = f64x2.splat(0);
  let n4b = f64x2.splat(0);
  let n4c = f64x2.splat(0);
  let n5 = f64x2.splat(0);
  let n5b = f64x2.splat(0);
  let n5c = f64x2.splat(0);
  let r0 = f64x2.splat(0);
  let r2 = f64x2.splat(0);
  let r4 = f64x2.splat(0);
  let energy: f64 = 0;
  let mass: f64 = 0;
  for (let i = 0; i < count; i++) {
    const at = i * 4;
    const w = <f64>load<f32>(weights + at);
    if (w == 0) continue;
    const px = <f64>load<f32>(xs + at) - centreX;
    const py = <f64>load<f32>(ys + at) - centreY;
    const qx = (a * px + c * py) / radius;
    const qy = (b * px + d * py) / radius;
    const shifts = wide(v128.load64_zero(slopes + i * 8));
    const dx = f64x2.extract_lane(shifts, 0);
    const dy = f64x2.extract_lane(shifts, 1);
    const level = <f64>load<f32>(fitted + at);
    const bends = f64x2.replace_lane(f64x2.splat(dx * qx + dy * qy), 1, dy * qx - dx * qy);
    const tones = f64x2.replace_lane(f64x2.splat((level - 128) / 64), 1, 1);
    const residual = level - <f64>load<f32>(seen + at);
    energy += w * residual * residual;
    mass += w;
    const weight = f64x2.splat(w);
    const left = f64x2.splat(residual);
    const w0 = f64x2.mul(weight, shifts);
    const w2 = f64x2.mul(weight, bends);
    const w4 = f64x2.mul(weight, tones);
    r0 = f64x2.add(r0, f64x2.mul(w0, left));
    r2 = f64x2.add(r2, f64x2.mul(w2, left));
    r4 = f64x2.add(r4, f64x2.mul(w4, left));
    const wj0 = v128.shuffle<f64>(w0, w0, 0, 0);
    n0 = f64x2.add(n0, f64x2.mul(wj0, shifts));
    const wj1 = v128.shuffle<f64>(w0, w0, 1, 1);
    n1 = f64x2.add(n1, f64x2.mul(wj1, shifts));
    const wj2 = v128.shuffle<f64>(w2, w2, 0, 0);
    n2 = f64x2.add(n2, f64x2.mul(wj2, shifts));
    n2b = f64x2.add(n2b, f64x2.mul(wj2, bends));
    const wj3 = v128.shuffle<f64>(w2, w2, 1, 1);
    n3 = f64x2.add(n3, f64x2.mul(wj3, shifts));
    n3b = f64x2.add(n3b, f64x2.mul(wj3, bends));
    const wj4 = v128.shuffle<f64>(w4, w4, 0, 0);
    n4 = f64x2.add(n4, f64x2.mul(wj4, shifts));
    n4b = f64x2.add(n4b, f64x2.mul(wj4, bends));
    n4c = f64x2.add(n4c, f64x2.mul(wj4, tones));
    const wj5 = v128.shuffle<f64>(w4, w4, 1, 1);
    n5 = f64x2.add(n5, f64x2.mul(wj5, shifts));
    n5b = f64x2.add(n5b, f64x2.mul(wj5, bends));
    n5c = f64x2.add(n5c, f64x2.mul(wj5, tones));
  }
  v128.store(normal, n0);
  v128.store(normal, n1, 48);
  v128.store(normal, n2, 96);
  v128.store(normal, n2b, 112);
  v128.store(normal, n3, 144);
  v128.store(normal, n3b, 160);
  v128.store(normal, n4, 192);
  v128.store(normal, n4b, 208);
  v128.store(normal, n4c, 224);
  v128.store(normal, n5, 240);
  v128.store(normal, n5b, 256);
  v128.store(normal, n5c, 272);
  v128.store(right, r0);
  v128.store(right, r2, 16);
  v128.store(right, r4, 32);
  store<f64>(right, energy, 48);
  store<f64>(right, mass, 56);
}

/** Of the samples inside, x what is seen and y what is fitted: how many, and sums of x, y, x x, y y, x y (64 bits). */
export function sumProducts(seen: usize, fitted: usize, inside: usize, count: i32, sums: usize): void {
  let n: f64 = 0;
  let firsts = f64x2.splat(0);
  let squares = f64x2.splat(0);
  let ofXY: f64 = 0;
  for (let i = 0; i < count; i++) {
    const at = i * 4;
    if (load<f32>(inside + at) == 0) continue;
    const both = wide(v128.load32_lane(fitted + at, v128.load32_zero(seen + at), 1));
    n += 1;
    firsts = f64x2.add(firsts, both);
    squares = f64x2.add(squares, f64x2.mul(both, both));
    ofXY += f64x2.extract_lane(both, 0) * f64x2.extract_lane(both, 1);
  }
  store<f64>(sums, n);
  v128.store(sums, firsts, 8);
  v128.store(sums, squares, 24);
  store<f64>(sums, ofXY, 40);
}
