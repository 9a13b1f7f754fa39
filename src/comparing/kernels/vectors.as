// AssemblyScript. Loops over long vectors of 32-bit numbers, four at a time; `npm run kernels` makes vectors-code.ts of it.
// A vector is `bytes` long, a multiple of 16.

/**
 * Squared distances of four vectors from `count` others, all one behind the other, as 32-bit numbers: four rows of
 * `count` at `out`. Four at a time, since the others come from afar and a single sum would wait for itself.
 */
export function distances(four: usize, others: usize, count: i32, bytes: i32, out: usize): void {
  const a = four;
  const b = a + bytes;
  const c = b + bytes;
  const d = c + bytes;
  const row = count * 4;
  const even = count & ~1;
  for (let at = 0; at < even; at += 2) {
    const left = others + at * bytes;
    const right = left + bytes;
    let fromA = f32x4.splat(0);
    let fromB = f32x4.splat(0);
    let fromC = f32x4.splat(0);
    let fromD = f32x4.splat(0);
    let alsoA = f32x4.splat(0);
    let alsoB = f32x4.splat(0);
    let alsoC = f32x4.splat(0);
    let alsoD = f32x4.splat(0);
    for (let byte = 0; byte < bytes; byte += 16) {
      const l = v128.load(left + byte);
      const r = v128.load(right + byte);
      const inA = v128.load(a + byte);
      const inB = v128.load(b + byte);
      const inC = v128.load(c + byte);
      const inD = v128.load(d + byte);
      fromA = f32x4.add(fromA, squared(inA, l));
      fromB = f32x4.add(fromB, squared(inB, l));
      fromC = f32x4.add(fromC, squared(inC, l));
      fromD = f32x4.add(fromD, squared(inD, l));
      alsoA = f32x4.add(alsoA, squared(inA, r));
      alsoB = f32x4.add(alsoB, squared(inB, r));
      alsoC = f32x4.add(alsoC, squared(inC, r));
      alsoD = f32x4.add(alsoD, squared(inD, r));
    }
    const to = out + at * 4;
    store<f32>(to, sum(fromA));
    store<f32>(to, sum(alsoA), 4);
    store<f32>(to + row, sum(fromB));
    store<f32>(to + row, sum(alsoB), 4);
    store<f32>(to + 2 * row, sum(fromC));
    store<f32>(to + 2 * row, sum(alsoC), 4);
    store<f32>(to + 3 * row, sum(fromD));
    store<f32>(to + 3 * row, sum(alsoD), 4);
  }
  if (even == count) return;
  for (let index = 0; index < 4; index++) {
    let from = f32x4.splat(0);
    for (let byte = 0; byte < bytes; byte += 16) {
      from = f32x4.add(from, squared(v128.load(four + index * bytes + byte), v128.load(others + even * bytes + byte)));
    }
    store<f32>(out + index * row + even * 4, sum(from));
  }
}

// @ts-ignore: decorator
@inline
function squared(one: v128, other: v128): v128 {
  const step = f32x4.sub(one, other);
  return f32x4.mul(step, step);
}

// @ts-ignore: decorator
@inline
function sum(four: v128): f32 {
  return (
    f32x4.extract_lane(four, 0) + f32x4.extract_lane(four, 1) + (f32x4.extract_lane(four, 2) + f32x4.extract_lane(four, 3))
  );
}
