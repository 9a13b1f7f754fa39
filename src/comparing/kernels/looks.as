// AssemblyScript. Loops over the cells of pages' signatures; `npm run kernels` makes looks-code.ts of it.
// A page's planes lie one behind the other: luminance, blue and red difference, luminance squared, each CELLS numbers
// of 32 bits. Every sum is added up in 64 bits from the first cell on, so that it does not depend on who adds; two sums
// go side by side.

const SIDE: i32 = 32;
const CELLS: i32 = SIDE * SIDE;
/** Bytes of a plane. */
const PLANE: i32 = CELLS * 4;

/** Colours of cells (3 bytes each) as planes at `planes`; their four means in 64 bits at `means`. */
export function fillPlanes(cells: usize, planes: usize, means: usize): void {
  let sumLight: f64 = 0;
  let sumBlue: f64 = 0;
  let sumRed: f64 = 0;
  let sumBend: f64 = 0;
  for (let cell = 0; cell < CELLS; cell++) {
    const at = cells + cell * 3;
    const r = <f64>load<u8>(at);
    const b = <f64>load<u8>(at, 2);
    // ITU-R BT.601 2.5.1
    const y = 0.299 * r + 0.587 * <f64>load<u8>(at, 1) + 0.114 * b;
    // Each in 64 bits first: a number written inside a cast would be taken in 32.
    const u: f64 = 0.564 * (b - y);
    const v: f64 = 0.713 * (r - y);
    const w: f64 = (y * y) / 255.0;
    const light = <f32>y;
    const blue = <f32>u;
    const red = <f32>v;
    const bend = <f32>w;
    const to = planes + cell * 4;
    store<f32>(to, light);
    store<f32>(to, blue, PLANE);
    store<f32>(to, red, 2 * PLANE);
    store<f32>(to, bend, 3 * PLANE);
    sumLight += <f64>light;
    sumBlue += <f64>blue;
    sumRed += <f64>red;
    sumBend += <f64>bend;
  }
  store<f64>(means, sumLight / <f64>CELLS);
  store<f64>(means, sumBlue / <f64>CELLS, 8);
  store<f64>(means, sumRed / <f64>CELLS, 16);
  store<f64>(means, sumBend / <f64>CELLS, 24);
}

/**
 * Takes its mean from each plane, and adds up the products of every two of light (l), bend (n), blue (b) and red (r):
 * ll ln lb lr nn nb nr bb br rr, in 64 bits at `products`.
 */
export function levelPlanes(planes: usize, means: usize, products: usize): void {
  const meanLight = load<f64>(means);
  const meanBlue = load<f64>(means, 8);
  const meanRed = load<f64>(means, 16);
  const meanBend = load<f64>(means, 24);
  let llln = f64x2.splat(0);
  let lblr = f64x2.splat(0);
  let nnnb = f64x2.splat(0);
  let nrbb = f64x2.splat(0);
  let brrr = f64x2.splat(0);
  for (let cell = 0; cell < CELLS; cell++) {
    const at = planes + cell * 4;
    const light = <f32>(<f64>load<f32>(at) - meanLight);
    const blue = <f32>(<f64>load<f32>(at, PLANE) - meanBlue);
    const red = <f32>(<f64>load<f32>(at, 2 * PLANE) - meanRed);
    const bend = <f32>(<f64>load<f32>(at, 3 * PLANE) - meanBend);
    store<f32>(at, light);
    store<f32>(at, blue, PLANE);
    store<f32>(at, red, 2 * PLANE);
    store<f32>(at, bend, 3 * PLANE);
    const l = f64x2.splat(<f64>light);
    const n = f64x2.splat(<f64>bend);
    const b = f64x2.splat(<f64>blue);
    const r = f64x2.splat(<f64>red);
    llln = f64x2.add(llln, f64x2.mul(l, firsts(l, n)));
    lblr = f64x2.add(lblr, f64x2.mul(l, firsts(b, r)));
    nnnb = f64x2.add(nnnb, f64x2.mul(n, firsts(n, b)));
    nrbb = f64x2.add(nrbb, f64x2.mul(firsts(n, b), firsts(r, b)));
    brrr = f64x2.add(brrr, f64x2.mul(firsts(b, r), r));
  }
  v128.store(products, llln);
  v128.store(products, lblr, 16);
  v128.store(products, nnnb, 32);
  v128.store(products, nrbb, 48);
  v128.store(products, brrr, 64);
}

// @ts-ignore: decorator
@inline
function firsts(a: v128, b: v128): v128 {
  return v128.shuffle<f64>(a, b, 0, 2);
}

/** The coarse vector's planes at `out`: light halved, blue and red quartered, by sums of cells times `scale` over the side. */
export function shrinkPlanes(planes: usize, scale: f64, out: usize): void {
  halve(planes, scale / 2, out);
  quarter(planes + PLANE, scale / 4, out + 1024);
  quarter(planes + 2 * PLANE, scale / 4, out + 1280);
}

function halve(plane: usize, scale: f64, out: usize): void {
  const scales = f64x2.splat(scale);
  let to = out;
  for (let row = 0; row < SIDE; row += 2) {
    for (let column = 0; column < SIDE; column += 4) {
      const at = plane + (row * SIDE + column) * 4;
      const upper = v128.load(at);
      const lower = v128.load(at, SIDE * 4);
      let sum = f64x2.splat(0);
      sum = plus(sum, v128.shuffle<f32>(upper, upper, 0, 2, 0, 2), scales);
      sum = plus(sum, v128.shuffle<f32>(upper, upper, 1, 3, 1, 3), scales);
      sum = plus(sum, v128.shuffle<f32>(lower, lower, 0, 2, 0, 2), scales);
      sum = plus(sum, v128.shuffle<f32>(lower, lower, 1, 3, 1, 3), scales);
      v128.store64_lane(to, f32x4.demote_f64x2_zero(sum), 0);
      to += 8;
    }
  }
}

function quarter(plane: usize, scale: f64, out: usize): void {
  const scales = f64x2.splat(scale);
  let to = out;
  for (let row = 0; row < SIDE; row += 4) {
    for (let column = 0; column < SIDE; column += 8) {
      let sum = f64x2.splat(0);
      for (let down = 0; down < 4; down++) {
        const at = plane + ((row + down) * SIDE + column) * 4;
        const left = v128.load(at);
        const right = v128.load(at, 16);
        sum = plus(sum, v128.shuffle<f32>(left, right, 0, 4, 0, 4), scales);
        sum = plus(sum, v128.shuffle<f32>(left, right, 1, 5, 1, 5), scales);
        sum = plus(sum, v128.shuffle<f32>(left, right, 2, 6, 2, 6), scales);
        sum = plus(sum, v128.shuffle<f32>(left, right, 3, 7, 3, 7), scales);
      }
      v128.store64_lane(to, f32x4.demote_f64x2_zero(sum), 0);
      to += 8;
    }
  }
}

/** Two sums of 32 bits, each with one cell more. */
// @ts-ignore: decorator
@inline
function plus(sums: v128, cells: v128, scales: v128): v128 {
  const more = f64x2.mul(f64x2.promote_low_f32x4(cells), scales);
  return f64x2.promote_low_f32x4(f32x4.demote_f64x2_zero(f64x2.add(sums, more)));
}

/**
 * Products of the planes of one page (light, blue, red: 0 1 2, bend: n) with those of another, in 64 bits at `out`:
 * 00 01, 02 0n, 10 11, 12 1n, 20 21, 22 2n, n0 n1, n2 nn.
 */
export function productsOf(one: usize, other: usize, out: usize): void {
  let p00p01 = f64x2.splat(0);
  let p02p0n = f64x2.splat(0);
  let p10p11 = f64x2.splat(0);
  let p12p1n = f64x2.splat(0);
  let p20p21 = f64x2.splat(0);
  let p22p2n = f64x2.splat(0);
  let pn0pn1 = f64x2.splat(0);
  let pn2pnn = f64x2.splat(0);
  for (let cell = 0; cell < CELLS; cell++) {
    const a = one + cell * 4;
    const b = other + cell * 4;
    const lightAndBlue = f64x2.promote_low_f32x4(v128.load32_lane(b, v128.load32_zero(b), 1, PLANE));
    const redAndBend = f64x2.promote_low_f32x4(
      v128.load32_lane(b, v128.load32_zero(b, 2 * PLANE), 1, 3 * PLANE)
    );
    const light = f64x2.splat(<f64>load<f32>(a));
    const blue = f64x2.splat(<f64>load<f32>(a, PLANE));
    const red = f64x2.splat(<f64>load<f32>(a, 2 * PLANE));
    const bend = f64x2.splat(<f64>load<f32>(a, 3 * PLANE));
    p00p01 = f64x2.add(p00p01, f64x2.mul(light, lightAndBlue));
    p02p0n = f64x2.add(p02p0n, f64x2.mul(light, redAndBend));
    p10p11 = f64x2.add(p10p11, f64x2.mul(blue, lightAndBlue));
    p12p1n = f64x2.add(p12p1n, f64x2.mul(blue, redAndBend));
    p20p21 = f64x2.add(p20p21, f64x2.mul(red, lightAndBlue));
    p22p2n = f64x2.add(p22p2n, f64x2.mul(red, redAndBend));
    pn0pn1 = f64x2.add(pn0pn1, f64x2.mul(bend, lightAndBlue));
    pn2pnn = f64x2.add(pn2pnn, f64x2.mul(bend, redAndBend));
  }
  v128.store(out, p00p01);
  v128.store(out, p02p0n, 16);
  v128.store(out, p10p11, 32);
  v128.store(out, p12p1n, 48);
  v128.store(out, p20p21, 64);
  v128.store(out, p22p2n, 80);
  v128.store(out, pn0pn1, 96);
  v128.store(out, pn2pnn, 112);
}
