// AssemblyScript. A picture of three bytes a pixel brought down, each pixel the mean of at most three by three that lie under
// it; `npm run kernels` makes shrinking-code.ts of it. The caller says where in memory all lies and leaves 16 bytes free
// behind each row.

// @ts-ignore: decorator
@inline
function addFour(sums: usize, four: v128, share: v128): void {
  v128.store(sums, f32x4.add(v128.load(sums), f32x4.mul(f32x4.convert_i32x4_s(four), share)));
}

/** Adds a share of each of `bytes` bytes to a sum of its own. */
function addRow(row: usize, bytes: i32, share: f32, sums: usize): void {
  const shares = f32x4.splat(share);
  for (let at = 0; at < bytes; at += 16) {
    const sixteen = v128.load(row + at);
    const low = i16x8.extend_low_i8x16_u(sixteen);
    const high = i16x8.extend_high_i8x16_u(sixteen);
    const to = sums + (at << 2);
    addFour(to, i32x4.extend_low_i16x8_u(low), shares);
    addFour(to + 16, i32x4.extend_high_i16x8_u(low), shares);
    addFour(to + 32, i32x4.extend_low_i16x8_u(high), shares);
    addFour(to + 48, i32x4.extend_high_i16x8_u(high), shares);
  }
}

/**
 * A row of the result.
 *
 * @param rgb  rows of `stride` bytes
 * @param across  for each pixel of the result: the first one under it (int32) and the shares of three (float32)
 * @param down  the same of this row
 * @param sums  room for four bytes a byte of a row and 64 more
 */
export function shrinkRow(
  rgb: usize,
  stride: i32,
  across: usize,
  down: usize,
  count: i32,
  sums: usize,
  out: usize,
): void {
  memory.fill(sums, 0, (<usize>stride << 2) + 64);
  const first = load<i32>(down);
  for (let tap = 0; tap < 3; tap++) {
    const share = load<f32>(down + 4 + (tap << 2));
    if (share > 0) addRow(rgb + <usize>((first + tap) * stride), stride, share, sums);
  }
  for (let index = 0; index < count; index++) {
    const from = sums + <usize>(load<i32>(across) * 12);
    const one = f32x4.mul(v128.load(from), f32x4.splat(load<f32>(across, 4)));
    const two = f32x4.mul(v128.load(from, 12), f32x4.splat(load<f32>(across, 8)));
    const three = f32x4.mul(v128.load(from, 24), f32x4.splat(load<f32>(across, 12)));
    const mean = f32x4.add(f32x4.add(one, two), three);
    const levels = i32x4.trunc_sat_f32x4_s(f32x4.add(mean, f32x4.splat(0.5)));
    store<u8>(out, <u8>i32x4.extract_lane(levels, 0));
    store<u8>(out + 1, <u8>i32x4.extract_lane(levels, 1));
    store<u8>(out + 2, <u8>i32x4.extract_lane(levels, 2));
    across += 16;
    out += 3;
  }
}
