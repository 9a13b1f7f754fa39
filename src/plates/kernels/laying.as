// AssemblyScript. Sums over two greys laid over each other, sixteen pixels at a time; `npm run kernels` makes
// laying-code.ts of it. The caller says where in memory its rows lie and leaves 16 bytes free behind the last.

// @ts-ignore: decorator
@inline
function total(four: v128): f64 {
  const two = i64x2.add(i64x2.extend_low_i32x4_u(four), i64x2.extend_high_i32x4_u(four));
  return <f64>(i64x2.extract_lane(two, 0) + i64x2.extract_lane(two, 1));
}

/**
 * Sums of b, b b and a b, written to `out` as three numbers of 8 bytes, over all rows where `open` has 255.
 * Rows of `a` and `open` are `stride` bytes, a whole number of sixteens and at most 100,000; `a` is 0 where `open` is.
 */
export function laySums(a: usize, open: usize, b: usize, stride: i32, strideB: i32, rows: i32, out: usize): void {
  let sumB: f64 = 0;
  let sumBB: f64 = 0;
  let sumAB: f64 = 0;
  for (let row = 0; row < rows; row++) {
    let rowB = i32x4.splat(0);
    let rowBB = i32x4.splat(0);
    let rowAB = i32x4.splat(0);
    for (let at = 0; at < stride; at += 16) {
      const p = v128.load(a + at);
      const q = v128.and(v128.load(b + at), v128.load(open + at));
      const pLow = i16x8.extend_low_i8x16_u(p);
      const pHigh = i16x8.extend_high_i8x16_u(p);
      const qLow = i16x8.extend_low_i8x16_u(q);
      const qHigh = i16x8.extend_high_i8x16_u(q);
      rowB = i32x4.add(rowB, i32x4.extadd_pairwise_i16x8_u(i16x8.add(qLow, qHigh)));
      rowBB = i32x4.add(rowBB, i32x4.add(i32x4.dot_i16x8_s(qLow, qLow), i32x4.dot_i16x8_s(qHigh, qHigh)));
      rowAB = i32x4.add(rowAB, i32x4.add(i32x4.dot_i16x8_s(pLow, qLow), i32x4.dot_i16x8_s(pHigh, qHigh)));
    }
    sumB += total(rowB);
    sumBB += total(rowBB);
    sumAB += total(rowAB);
    a += stride;
    open += stride;
    b += strideB;
  }
  store<f64>(out, sumB);
  store<f64>(out, sumBB, 8);
  store<f64>(out, sumAB, 16);
}
