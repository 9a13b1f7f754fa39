// AssemblyScript. Loops over rows of bytes, sixteen at a time; `npm run kernels` makes rows-code.ts of it.
// The caller says where in memory its rows lie and leaves 64 bytes free behind each.

/** Of a pair of rows of RGB pixels, each of `pixels` pairs of them: the mean of 2 x 2, half up. */
export function halve(upper: usize, lower: usize, out: usize, pixels: i32): void {
  const two = i16x8.splat(2);
  const bytes = pixels * 3;
  for (let to = 0, at = 0; to < bytes; to += 12, at += 24) {
    const first = fours(upper + at, lower + at, two);
    const second = fours(upper + at + 16, lower + at + 16, two);
    v128.store(out + to, v128.shuffle<u8>(first, second, 0, 1, 2, 6, 7, 8, 12, 13, 14, 18, 19, 20, 0, 0, 0, 0));
  }
}

/** For each of sixteen bytes: the mean of it, the pixel's to the right, and the two below. */
// @ts-ignore: decorator
@inline
function fours(upper: usize, lower: usize, two: v128): v128 {
  const a = v128.load(upper);
  const b = v128.load(upper, 3);
  const c = v128.load(lower);
  const d = v128.load(lower, 3);
  const low = i16x8.add(
    i16x8.add(i16x8.extend_low_i8x16_u(a), i16x8.extend_low_i8x16_u(b)),
    i16x8.add(i16x8.extend_low_i8x16_u(c), i16x8.extend_low_i8x16_u(d))
  );
  const high = i16x8.add(
    i16x8.add(i16x8.extend_high_i8x16_u(a), i16x8.extend_high_i8x16_u(b)),
    i16x8.add(i16x8.extend_high_i8x16_u(c), i16x8.extend_high_i8x16_u(d))
  );
  return i8x16.narrow_i16x8_u(i16x8.shr_u(i16x8.add(low, two), 2), i16x8.shr_u(i16x8.add(high, two), 2));
}

/** Along a row of RGB pixels with one more at each end: one of each neighbour and two of a byte itself, in 16 bits. */
export function smoothAlong(row: usize, out: usize, bytes: i32): void {
  for (let at = 0; at < bytes; at += 16) {
    const left = v128.load(row + at);
    const here = v128.load(row + at, 3);
    const right = v128.load(row + at, 6);
    const to = out + at * 2;
    const low = i16x8.add(i16x8.extend_low_i8x16_u(left), i16x8.extend_low_i8x16_u(right));
    const high = i16x8.add(i16x8.extend_high_i8x16_u(left), i16x8.extend_high_i8x16_u(right));
    v128.store(to, i16x8.add(low, i16x8.shl(i16x8.extend_low_i8x16_u(here), 1)));
    v128.store(to, i16x8.add(high, i16x8.shl(i16x8.extend_high_i8x16_u(here), 1)), 16);
  }
}

/** Down three rows that were smoothed along: the same, as bytes, half up. */
export function smoothDown(above: usize, here: usize, under: usize, out: usize, bytes: i32): void {
  for (let at = 0; at < bytes; at += 16) {
    const wide = at * 2;
    const low = down(v128.load(above + wide), v128.load(here + wide), v128.load(under + wide));
    const high = down(v128.load(above + wide, 16), v128.load(here + wide, 16), v128.load(under + wide, 16));
    v128.store(out + at, i8x16.narrow_i16x8_u(low, high));
  }
}

// @ts-ignore: decorator
@inline
function down(above: v128, here: v128, under: v128): v128 {
  const sum = i16x8.add(i16x8.add(above, under), i16x8.shl(here, 1));
  return i16x8.shr_u(i16x8.add(sum, i16x8.splat(8)), 4);
}

/**
 * Open places between `first` and `end` whose three channels together are `least` levels apart on two rows of RGB pixels.
 * Their numbers, four bytes each, go to `out`; returns how many.
 */
export function placesApart(
  one: usize, other: usize, open: usize, first: i32, end: i32, least: i32, out: usize
): i32 {
  // Where no channel is a third of it apart, the three together are not.
  const third = i8x16.splat(<i8>(least / 3));
  let found = 0;
  for (let from = first; from < end; from += 16) {
    const at = from * 3;
    const alike = v128.or(
      v128.or(apart(one + at, other + at, third), apart(one + at + 16, other + at + 16, third)),
      apart(one + at + 32, other + at + 32, third)
    );
    if (!v128.any_true(alike)) continue;
    const last = min(end, from + 16);
    for (let x = from; x < last; x++) {
      if (load<u8>(open + x) == 0) continue;
      const a = one + x * 3;
      const b = other + x * 3;
      const sum = difference(a, b) + difference(a + 1, b + 1) + difference(a + 2, b + 2);
      if (sum < least) continue;
      store<i32>(out + found * 4, x);
      found += 1;
    }
  }
  return found;
}

// @ts-ignore: decorator
@inline
function apart(one: usize, other: usize, least: v128): v128 {
  const a = v128.load(one);
  const b = v128.load(other);
  return i8x16.ge_u(v128.or(i8x16.sub_sat_u(a, b), i8x16.sub_sat_u(b, a)), least);
}

// @ts-ignore: decorator
@inline
function difference(one: usize, other: usize): i32 {
  return abs(<i32>load<u8>(one) - <i32>load<u8>(other));
}
