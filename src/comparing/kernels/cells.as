// AssemblyScript. Loops over the cells of a picture laid over its other self; `npm run kernels` makes cells-code.ts of it.
// Colours are L*, a*, b* of 32 bits a cell; where `speaks` is 0 a cell is left out. All arithmetic is in 64 bits, and sums
// are added up cell by cell, so that it does not depend on who adds. The caller says where in memory everything lies, and
// goes through a picture piece by piece (cells `first` to `end`): the engine makes better code of a loop between calls.

/** Which bin of colours each cell falls in, to `bins`; those not known yet go to `found`. Returns how many. */
export function binCells(
  lab: usize, speaks: usize, first: i32, end: i32, known: usize, bins: usize, found: usize
): i32 {
  let count = 0;
  for (let cell = first; cell < end; cell++) {
    if (load<u8>(speaks + cell) == 0) continue;
    const at = lab + cell * 12;
    const x = stepOf(<f64>load<f32>(at) / 0.78125, 128);
    const y = stepOf((<f64>load<f32>(at, 4) + 96) / 3, 64);
    const z = stepOf((<f64>load<f32>(at, 8) + 96) / 3, 64);
    const bin = (x * 64 + y) * 64 + z;
    store<i32>(bins + cell * 4, bin);
    if (load<u8>(known + bin) != 0) continue;
    store<u8>(known + bin, 1);
    store<i32>(found + count * 4, bin);
    count += 1;
  }
  return count;
}

// @ts-ignore: decorator
@inline
function stepOf(place: f64, steps: i32): i32 {
  return place <= 0 ? 0 : place >= <f64>steps ? steps - 1 : <i32>place;
}

/** Moves each cell's colour by what its bin is moved by. */
export function moveCells(
  lab: usize, speaks: usize, first: i32, end: i32, bins: usize, moved: usize, out: usize
): void {
  for (let cell = first; cell < end; cell++) {
    if (load<u8>(speaks + cell) == 0) continue;
    const at = cell * 12;
    const by = moved + load<i32>(bins + cell * 4) * 12;
    const l: f64 = <f64>load<f32>(lab + at) + <f64>load<f32>(by);
    const a: f64 = <f64>load<f32>(lab + at, 4) + <f64>load<f32>(by, 4);
    const b: f64 = <f64>load<f32>(lab + at, 8) + <f64>load<f32>(by, 8);
    store<f32>(out + at, <f32>l);
    store<f32>(out + at, <f32>b, 8);
    store<f32>(out + at, <f32>a, 4);
  }
}

/**
 * The shade of each cell to `shades` (16 bits); what the map leaves over there, at most `most` long, added to its sums at
 * `sums`: L*, a*, b*, and how many cells, 64 bits each.
 */
export function sumLeftovers(
  dummy: usize, revision: usize, mapped: usize, speaks: usize, first: i32, end: i32, most: f64, shades: usize, sums: usize
): void {
  for (let cell = first; cell < end; cell++) {
    if (load<u8>(speaks + cell) == 0) continue;
    const at = cell * 12;
    const shade = shadeOf(dummy + at);
    store<u16>(shades + cell * 2, <u16>shade);
    let l: f64 = <f64>load<f32>(revision + at) - <f64>load<f32>(mapped + at);
    let a: f64 = <f64>load<f32>(revision + at, 4) - <f64>load<f32>(mapped + at, 4);
    let b: f64 = <f64>load<f32>(revision + at, 8) - <f64>load<f32>(mapped + at, 8);
    const squares = l * l + a * a + b * b;
    // Squared it is asked first: far more often it is less, and a root takes long.
    if (squares > most * most * 0.999) {
      const size = Math.sqrt(squares);
      if (size > most) {
        l = (l * most) / size;
        a = (a * most) / size;
        b = (b * most) / size;
      }
    }
    const to = sums + shade * 32;
    v128.store(to, f64x2.add(v128.load(to), f64x2.replace_lane(f64x2.splat(l), 1, a)));
    v128.store(to, f64x2.add(v128.load(to, 16), f64x2.replace_lane(f64x2.splat(b), 1, 1)), 16);
  }
}

/** The shade of a colour: ten steps wide, L* from 0, a* and b* from -75. */
// @ts-ignore: decorator
@inline
function shadeOf(at: usize): i32 {
  const x = stepOf(<f64>load<f32>(at) / 10 + 0.5, 11);
  const y = stepOf((<f64>load<f32>(at, 4) + 75) / 10 + 0.5, 16);
  const z = stepOf((<f64>load<f32>(at, 8) + 75) / 10 + 0.5, 16);
  return (x * 16 + y) * 16 + z;
}

/**
 * How far each cell lies from what the map and its shade's leftover expect, to `out`; 0 where a cell does not speak. Cells
 * `near` or more away go to `far`. Returns how many.
 */
export function measureMisfit(
  revision: usize, mapped: usize, speaks: usize, first: i32, end: i32, shades: usize, table: usize, near: f64, out: usize,
  far: usize
): i32 {
  let count = 0;
  for (let cell = first; cell < end; cell++) {
    if (load<u8>(speaks + cell) == 0) {
      store<f32>(out + cell * 4, 0);
      continue;
    }
    const at = cell * 12;
    const shade = table + <i32>load<u16>(shades + cell * 2) * 12;
    const l = <f64>load<f32>(revision + at) - (<f64>load<f32>(mapped + at) + <f64>load<f32>(shade));
    const a = <f64>load<f32>(revision + at, 4) - (<f64>load<f32>(mapped + at, 4) + <f64>load<f32>(shade, 4));
    const b = <f64>load<f32>(revision + at, 8) - (<f64>load<f32>(mapped + at, 8) + <f64>load<f32>(shade, 8));
    const plain: f64 = Math.sqrt(l * l + a * a + b * b);
    store<f32>(out + cell * 4, <f32>plain);
    if (plain < near) continue;
    store<i32>(far + count * 4, cell);
    count += 1;
  }
  return count;
}

/** Of a row within the field: how steep L* is at each cell but the ends, the busier side up to `more` above the dummy. */
export function measureSlopes(
  dummy: usize, revision: usize, speaks: usize, width: i32, first: i32, end: i32, more: f64, out: usize
): void {
  const row = width * 12;
  let here = onBoth(dummy, revision, first * 12);
  let toLeft = stepTo(onBoth(dummy, revision, first * 12 - 12), here);
  for (let cell = first; cell < end; cell++) {
    const at = cell * 12;
    const right = onBoth(dummy, revision, at + 12);
    const toRight = stepTo(right, here);
    const across = f64x2.pmax(toLeft, toRight);
    const down = f64x2.pmax(
      stepTo(onBoth(dummy, revision, at - row), here), stepTo(onBoth(dummy, revision, at + row), here)
    );
    const largest = f64x2.pmax(across, down);
    here = right;
    toLeft = toRight;
    if (load<u8>(speaks + cell) == 0) continue;
    const own = f64x2.extract_lane(largest, 0);
    const other = f64x2.extract_lane(largest, 1);
    const slope: f64 = other <= own ? own : own + more < other ? own + more : other;
    store<f32>(out + cell * 4, <f32>slope);
  }
}

/** L* of the dummy and of the revision. */
// @ts-ignore: decorator
@inline
function onBoth(dummy: usize, revision: usize, at: i32): v128 {
  return f64x2.promote_low_f32x4(v128.load32_lane(revision + at, v128.load32_zero(dummy + at), 1));
}

// @ts-ignore: decorator
@inline
function stepTo(there: v128, here: v128): v128 {
  return f64x2.abs(f64x2.sub(there, here));
}

/** Counts, in steps of 1/8 up to 64, the values of cells that speak and are at least as steep. */
export function countSteps(
  values: usize, speaks: usize, slope: usize, steep: f64, first: i32, end: i32, histogram: usize
): void {
  for (let cell = first; cell < end; cell++) {
    if (load<u8>(speaks + cell) == 0 || !(<f64>load<f32>(slope + cell * 4) >= steep)) continue;
    const at = histogram + min<i32>(512, <i32>(<f64>load<f32>(values + cell * 4) * 8)) * 4;
    store<u32>(at, load<u32>(at) + 1);
  }
}

/**
 * Marks cells beyond a limit with 2 and those beyond a share of it with 1: the limit is so many times the misfit that is
 * usual for their slope, and at least `least`. Returns how many are marked with 2.
 */
export function markCells(
  misfit: usize, slope: usize, speaks: usize, first: i32, end: i32, base: f64, perSlope: f64, times: f64, least: f64,
  share: f64, marks: usize
): i32 {
  let count = 0;
  for (let cell = first; cell < end; cell++) {
    if (load<u8>(speaks + cell) == 0) {
      store<u8>(marks + cell, 0);
      continue;
    }
    const usual = base + perSlope * <f64>load<f32>(slope + cell * 4);
    const limit = times * usual > least ? times * usual : least;
    const own = <f64>load<f32>(misfit + cell * 4);
    const beyond = <i32>(own > limit);
    store<u8>(marks + cell, <u8>(beyond + <i32>(own > share * limit)));
    count += beyond;
  }
  return count;
}
