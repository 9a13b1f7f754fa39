// AssemblyScript. Loops over fields of colours (L*, a*, b* of 32 bits a cell); `npm run kernels` makes fields-code.ts of it.
// All arithmetic is in 64 bits, in the order in which it is written. The caller says where in memory everything lies and
// leaves 64 bytes free behind it.

/**
 * Bytes of sRGB as colours. `linear` is the share of light of each level, times the steps of `compressed` (64 bits), and
 * `compressed` the cube root at each step (32 bits); `weights` the nine of X, Y, Z from red, green, blue.
 */
export function labOf(rgb: usize, pixels: i32, linear: usize, compressed: usize, weights: usize, out: usize): void {
  const reds = f64x2.replace_lane(f64x2.splat(load<f64>(weights)), 1, load<f64>(weights, 24));
  const greens = f64x2.replace_lane(f64x2.splat(load<f64>(weights, 8)), 1, load<f64>(weights, 32));
  const blues = f64x2.replace_lane(f64x2.splat(load<f64>(weights, 16)), 1, load<f64>(weights, 40));
  const zr = load<f64>(weights, 48);
  const zg = load<f64>(weights, 56);
  const zb = load<f64>(weights, 64);
  for (let pixel = 0; pixel < pixels; pixel++) {
    const at = rgb + pixel * 3;
    const red = load<f64>(linear + (<usize>load<u8>(at) << 3));
    const green = load<f64>(linear + (<usize>load<u8>(at, 1) << 3));
    const blue = load<f64>(linear + (<usize>load<u8>(at, 2) << 3));
    const steps = f64x2.add(
      f64x2.add(f64x2.mul(reds, f64x2.splat(red)), f64x2.mul(greens, f64x2.splat(green))),
      f64x2.mul(blues, f64x2.splat(blue))
    );
    const whole = f64x2.floor(steps);
    const ofX = between(compressed, f64x2.extract_lane(whole, 0));
    const ofY = between(compressed, f64x2.extract_lane(whole, 1));
    const low = v128.shuffle<f64>(ofX, ofY, 0, 2);
    const more = f64x2.sub(v128.shuffle<f64>(ofX, ofY, 1, 3), low);
    const xy = f64x2.add(low, f64x2.mul(more, f64x2.sub(steps, whole)));
    const stepsZ = zr * red + zg * green + zb * blue;
    const wholeZ = Math.floor(stepsZ);
    const ofZ = between(compressed, wholeZ);
    const lowZ = f64x2.extract_lane(ofZ, 0);
    const z = lowZ + (f64x2.extract_lane(ofZ, 1) - lowZ) * (stepsZ - wholeZ);
    const x = f64x2.extract_lane(xy, 0);
    const y = f64x2.extract_lane(xy, 1);
    const l: f64 = 116 * y - 16;
    const a: f64 = 500 * (x - y);
    const b: f64 = 200 * (y - z);
    const to = out + pixel * 12;
    store<f32>(to, <f32>l);
    store<f32>(to, <f32>a, 4);
    store<f32>(to, <f32>b, 8);
  }
}

/** A step of a table and the next. */
// @ts-ignore: decorator
@inline
function between(table: usize, step: f64): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(table + (wholeOf(step) << 2)));
}

/** A whole number that is not negative: added to 2^52 it is its own last bits, sooner than by the checked conversion. */
// @ts-ignore: decorator
@inline
function wholeOf(number: f64): i32 {
  return <i32>reinterpret<i64>(number + 4503599627370496);
}

/**
 * Reads a row of cells where a map says, straight between the middles of `across` x `down` source cells. Cell x of it lies
 * at (`right` + x + 0.5, `below`) of the page; `a` to `f` is the map, `left` and `top` where the source begins, half a cell
 * added. Cells that do not speak, or lie more than half a cell outside, stay as they are; `inside` is 1 for the others.
 */
export function layRow(
  source: usize, across: i32, down: i32, left: f64, top: f64, a: f64, b: f64, c: f64, d: f64, e: f64, f: f64, right: f64,
  below: f64, width: i32, speaks: usize, out: usize, inside: usize
): void {
  const row = across * 12;
  const toRight = across > 1 ? 12 : 0;
  const toBelow = down > 1 ? row : 0;
  const lastX = <f64>across - 0.5;
  const lastY = <f64>down - 0.5;
  const mostX = <f64>across - 1.001;
  const mostY = <f64>down - 1.001;
  for (let x = 0; x < width; x++) {
    if (load<u8>(speaks + x) == 0) continue;
    const px = right + <f64>x + 0.5;
    let u = a * px + c * below + e - left - 0.5;
    let v = b * px + d * below + f - top - 0.5;
    if (u < -0.5 || v < -0.5 || u > lastX || v > lastY) continue;
    u = u < mostX ? u : mostX;
    v = v < mostY ? v : mostY;
    u = u > 0 ? u : 0;
    v = v > 0 ? v : 0;
    const column = Math.floor(u);
    const line = Math.floor(v);
    const p = u - column;
    const q = v - line;
    const upper = source + wholeOf(line) * row + wholeOf(column) * 12;
    const lower = upper + toBelow;
    const w00 = f64x2.splat((1 - p) * (1 - q));
    const w10 = f64x2.splat(p * (1 - q));
    const w01 = f64x2.splat((1 - p) * q);
    const w11 = f64x2.splat(p * q);
    const la = mixed(
      v128.load64_zero(upper), v128.load64_zero(upper + toRight), v128.load64_zero(lower),
      v128.load64_zero(lower + toRight), w00, w10, w01, w11
    );
    const last = mixed(
      v128.load32_zero(upper, 8), v128.load32_zero(upper + toRight, 8), v128.load32_zero(lower, 8),
      v128.load32_zero(lower + toRight, 8), w00, w10, w01, w11
    );
    v128.store64_lane(out + x * 12, la, 0);
    v128.store32_lane(out + x * 12, last, 0, 8);
    store<u8>(inside + x, 1);
  }
}

// @ts-ignore: decorator
@inline
function mixed(
  one: v128, two: v128, three: v128, four: v128, w00: v128, w10: v128, w01: v128, w11: v128
): v128 {
  const sum = f64x2.add(
    f64x2.add(
      f64x2.add(f64x2.mul(w00, f64x2.promote_low_f32x4(one)), f64x2.mul(w10, f64x2.promote_low_f32x4(two))),
      f64x2.mul(w01, f64x2.promote_low_f32x4(three))
    ),
    f64x2.mul(w11, f64x2.promote_low_f32x4(four))
  );
  return f32x4.demote_f64x2_zero(sum);
}

/** Every so manieth of the cells that speak, their numbers to `out`; the first of them all is taken. Returns how many. */
export function pickCells(speaks: usize, count: i32, stride: i32, out: usize): i32 {
  let picked = 0;
  let wait = 0;
  for (let cell = 0; cell < count; cell++) {
    if (load<u8>(speaks + cell) == 0) continue;
    if (wait == 0) {
      store<i32>(out + picked * 4, cell);
      picked += 1;
      wait = stride;
    }
    wait -= 1;
  }
  return picked;
}
