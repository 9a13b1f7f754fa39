// AssemblyScript. Loops over pixels, sixteen bytes at a time; `npm run kernels` makes pixels-code.ts of it.
// Memory is laid out by hand, so that nothing is ever allocated: a table of colours, a run of pixels in, a run out, sums.

/** Grid points along each ink, less one; bytes of the table between neighbours along each ink. */
const BYTES_CYAN: i32 = 17 * 17 * 17 * 4;
const BYTES_MAGENTA: i32 = 17 * 17 * 4;
const BYTES_YELLOW: i32 = 17 * 4;
const BYTES_BLACK: i32 = 4;
/** In a packed number: how far to the next point, of 256, above the bytes to it. */
const STEP_BITS: i32 = 15;

/** Colours of the grid, four bytes each; behind it zeros, which are read and weighed with nothing. */
const TABLE: usize = 1024;
const TABLE_BYTES: usize = (17 * 17 * 17 * 17 + 17 * 17 * 17 + 17 * 17 + 17 + 2) * 4;
/** Pixels of a run. */
const RUN: usize = 4096;
const IN: usize = (TABLE + TABLE_BYTES + 63) & ~63;
const OUT: usize = IN + RUN * 4;
const SUMS: usize = (OUT + RUN * 4 + 16 + 63) & ~63;

export function tableAt(): usize { return TABLE; }
export function inAt(): usize { return IN; }
export function outAt(): usize { return OUT; }
export function sumsAt(): usize { return SUMS; }
export function run(): usize { return RUN; }

/** One channel of four pixels. */
// @ts-ignore: decorator
@inline
function channel(pixels: v128, shift: i32): v128 {
  return v128.and(i32x4.shr_u(pixels, shift), i32x4.splat(255));
}

/** What a corner of the simplex adds to four pixels: their colours there by their weights, of 256. */
// @ts-ignore: decorator
@inline
function coloursAt(places: v128): v128 {
  let four = v128.load32_zero(TABLE + i32x4.extract_lane(places, 0));
  four = v128.load32_lane(TABLE + i32x4.extract_lane(places, 1), four, 1);
  four = v128.load32_lane(TABLE + i32x4.extract_lane(places, 2), four, 2);
  return v128.load32_lane(TABLE + i32x4.extract_lane(places, 3), four, 3);
}
// @ts-ignore: decorator
@inline
function weighedLow(four: v128, weights: v128): v128 {
  const each = v128.shuffle<u8>(weights, weights, 0, 1, 0, 1, 0, 1, 0, 1, 4, 5, 4, 5, 4, 5, 4, 5);
  return i16x8.mul(i16x8.extend_low_i8x16_u(four), each);
}
// @ts-ignore: decorator
@inline
function weighedHigh(four: v128, weights: v128): v128 {
  const each = v128.shuffle<u8>(weights, weights, 8, 9, 8, 9, 8, 9, 8, 9, 12, 13, 12, 13, 12, 13, 12, 13);
  return i16x8.mul(i16x8.extend_high_i8x16_u(four), each);
}
// @ts-ignore: decorator
@inline
function threeOfFour(pixels: v128): v128 {
  return v128.shuffle<u8>(pixels, pixels, 0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14, 0, 0, 0, 0);
}

/** Screen colours of `pixels` pixels of four inks, from IN to OUT, three bytes each or an opaque four; see ink-table.ts. */
export function colourInks(pixels: i32, isFour: bool): void {
  const one = i8x16.splat(1);
  const fifteen = i8x16.splat(15);
  // Between points 8 and 9 lie fifteen levels, elsewhere sixteen: what the rounded part has more than sixteen a level.
  const uneven = i8x16(0, 1, 2, 3, 4, 5, 6, 7, 9, 10, 11, 12, 13, 14, 15, 0);
  const steps = i32x4.splat((1 << STEP_BITS) - 1);
  for (let at = 0; at < pixels; at += 4) {
    const levels = v128.load(IN + at * 4);
    const isFull = i8x16.eq(levels, i8x16.splat(-1));
    // Points lie at 16 n up to the eighth, at 16 n - 1 after it, the last at 255.
    const raised = i8x16.add_sat_u(levels, v128.and(i8x16.ge_u(levels, i8x16.splat(<i8>143)), one));
    const below = i8x16.sub(i8x16.shr_u(raised, 4), isFull);
    const above = v128.andnot(v128.and(raised, fifteen), isFull);
    const extra = v128.and(i8x16.eq(below, i8x16.splat(8)), i8x16.swizzle(uneven, above));
    const parts = i8x16.add(i8x16.shl(above, 4), extra);

    const corner = i32x4.add(
      i32x4.add(
        i32x4.mul(channel(below, 0), i32x4.splat(BYTES_CYAN)),
        i32x4.mul(channel(below, 8), i32x4.splat(BYTES_MAGENTA))
      ),
      i32x4.add(
        i32x4.mul(channel(below, 16), i32x4.splat(BYTES_YELLOW)),
        i32x4.mul(channel(below, 24), i32x4.splat(BYTES_BLACK))
      )
    );
    const cyan = v128.or(i32x4.shl(channel(parts, 0), STEP_BITS), i32x4.splat(BYTES_CYAN));
    const magenta = v128.or(i32x4.shl(channel(parts, 8), STEP_BITS), i32x4.splat(BYTES_MAGENTA));
    const yellow = v128.or(i32x4.shl(channel(parts, 16), STEP_BITS), i32x4.splat(BYTES_YELLOW));
    const black = v128.or(i32x4.shl(channel(parts, 24), STEP_BITS), i32x4.splat(BYTES_BLACK));
    // A sorting network, largest part first.
    const a = i32x4.max_s(cyan, magenta);
    const b = i32x4.min_s(cyan, magenta);
    const c = i32x4.max_s(yellow, black);
    const d = i32x4.min_s(yellow, black);
    const e = i32x4.min_s(a, c);
    const f = i32x4.max_s(b, d);
    const first = i32x4.max_s(a, c);
    const second = i32x4.max_s(e, f);
    const third = i32x4.min_s(e, f);
    const fourth = i32x4.min_s(b, d);

    const p1 = i32x4.shr_u(first, STEP_BITS);
    const p2 = i32x4.shr_u(second, STEP_BITS);
    const p3 = i32x4.shr_u(third, STEP_BITS);
    const p4 = i32x4.shr_u(fourth, STEP_BITS);
    let place = corner;
    let four = coloursAt(place);
    let weights = i32x4.sub(i32x4.splat(256), p1);
    let low = i16x8.add(i16x8.splat(128), weighedLow(four, weights));
    let high = i16x8.add(i16x8.splat(128), weighedHigh(four, weights));
    place = i32x4.add(place, v128.and(first, steps));
    four = coloursAt(place);
    weights = i32x4.sub(p1, p2);
    low = i16x8.add(low, weighedLow(four, weights));
    high = i16x8.add(high, weighedHigh(four, weights));
    place = i32x4.add(place, v128.and(second, steps));
    four = coloursAt(place);
    weights = i32x4.sub(p2, p3);
    low = i16x8.add(low, weighedLow(four, weights));
    high = i16x8.add(high, weighedHigh(four, weights));
    place = i32x4.add(place, v128.and(third, steps));
    four = coloursAt(place);
    weights = i32x4.sub(p3, p4);
    low = i16x8.add(low, weighedLow(four, weights));
    high = i16x8.add(high, weighedHigh(four, weights));
    place = i32x4.add(place, v128.and(fourth, steps));
    four = coloursAt(place);
    low = i16x8.add(low, weighedLow(four, p4));
    high = i16x8.add(high, weighedHigh(four, p4));

    const colours = i8x16.narrow_i16x8_u(i16x8.shr_u(low, 8), i16x8.shr_u(high, 8));
    if (isFour) v128.store(OUT + at * 4, v128.or(colours, i32x4.splat(0xff000000)));
    else v128.store(OUT + at * 3, threeOfFour(colours));
  }
}

/** The first three bytes of each four, of `pixels` pixels from IN to OUT. */
export function dropFourth(pixels: i32): void {
  for (let at = 0; at < pixels; at += 4) v128.store(OUT + at * 3, threeOfFour(v128.load(IN + at * 4)));
}

/** Sets the sums of `bytes` bytes to nothing. */
export function clearSums(bytes: i32): void {
  memory.fill(SUMS, 0, (bytes + 16) * 2);
}

/** Adds `bytes` bytes from IN to as many sums of 16 bits; 257 additions fit. */
export function addToSums(bytes: i32): void {
  for (let at = 0; at < bytes; at += 16) {
    const sixteen = v128.load(IN + at);
    const to = SUMS + at * 2;
    v128.store(to, i16x8.add(v128.load(to), i16x8.extend_low_i8x16_u(sixteen)));
    v128.store(to + 16, i16x8.add(v128.load(to + 16), i16x8.extend_high_i8x16_u(sixteen)));
  }
}
