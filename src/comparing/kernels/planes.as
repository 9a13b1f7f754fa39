// AssemblyScript. Loops over rows of a plane (32 bits a pixel); `npm run kernels` makes planes-code.ts of it.
// All arithmetic is in 64 bits, two pixels side by side, rounded once. The caller says where in memory its rows lie and
// leaves 64 bytes free behind each.

/** Luma of RGB pixels, weights of ITU-R BT.709. */
export function lumaOf(rgb: usize, pixels: i32, out: usize): void {
  const red = f64x2.splat(0.2126);
  const green = f64x2.splat(0.7152);
  const blue = f64x2.splat(0.0722);
  for (let x = 0; x < pixels; x += 4) {
    const bytes = v128.load(rgb + x * 3);
    const reds = i8x16.swizzle(bytes, i8x16(0, -1, -1, -1, 3, -1, -1, -1, 6, -1, -1, -1, 9, -1, -1, -1));
    const greens = i8x16.swizzle(bytes, i8x16(1, -1, -1, -1, 4, -1, -1, -1, 7, -1, -1, -1, 10, -1, -1, -1));
    const blues = i8x16.swizzle(bytes, i8x16(2, -1, -1, -1, 5, -1, -1, -1, 8, -1, -1, -1, 11, -1, -1, -1));
    const to = out + x * 4;
    v128.store64_lane(to, weighted(reds, greens, blues, red, green, blue), 0);
    v128.store64_lane(to, weighted(highs(reds), highs(greens), highs(blues), red, green, blue), 0, 8);
  }
}

// @ts-ignore: decorator
@inline
function highs(four: v128): v128 {
  return v128.shuffle<i32>(four, four, 2, 3, 2, 3);
}

// @ts-ignore: decorator
@inline
function weighted(reds: v128, greens: v128, blues: v128, red: v128, green: v128, blue: v128): v128 {
  const sum = f64x2.add(
    f64x2.add(
      f64x2.mul(red, f64x2.convert_low_i32x4_u(reds)), f64x2.mul(green, f64x2.convert_low_i32x4_u(greens))
    ),
    f64x2.mul(blue, f64x2.convert_low_i32x4_u(blues))
  );
  return f32x4.demote_f64x2_zero(sum);
}

/** Of five rows: 1 4 6 4 1 sixteenths of each pixel. Along a row the five are the same, each a pixel further. */
export function smooth(one: usize, two: usize, three: usize, four: usize, five: usize, out: usize, pixels: i32): void {
  const quarter = f64x2.splat(4);
  const middle = f64x2.splat(6);
  const share = f64x2.splat(0.0625);
  for (let at: usize = 0, end = <usize>pixels * 4; at < end; at += 8) {
    const outer = f64x2.add(two64(one + at), two64(five + at));
    const inner = f64x2.mul(quarter, f64x2.add(two64(two + at), two64(four + at)));
    const sum = f64x2.add(f64x2.add(outer, inner), f64x2.mul(middle, two64(three + at)));
    v128.store64_lane(out + at, f32x4.demote_f64x2_zero(f64x2.mul(sum, share)), 0);
  }
}

// @ts-ignore: decorator
@inline
function two64(at: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(at));
}

/** Of a pair of rows, each of `pixels` pairs of pixels: the mean of 2 x 2. */
export function halve(upper: usize, lower: usize, out: usize, pixels: i32): void {
  const share = f64x2.splat(0.25);
  for (let x = 0; x < pixels; x += 2) {
    const above = v128.load(upper + x * 8);
    const below = v128.load(lower + x * 8);
    const sum = f64x2.add(
      f64x2.add(f64x2.add(evens(above), odds(above)), evens(below)),
      odds(below)
    );
    v128.store64_lane(out + x * 4, f32x4.demote_f64x2_zero(f64x2.mul(sum, share)), 0);
  }
}

// @ts-ignore: decorator
@inline
function evens(four: v128): v128 {
  return f64x2.promote_low_f32x4(v128.shuffle<f32>(four, four, 0, 2, 0, 2));
}

// @ts-ignore: decorator
@inline
function odds(four: v128): v128 {
  return f64x2.promote_low_f32x4(v128.shuffle<f32>(four, four, 1, 3, 1, 3));
}
