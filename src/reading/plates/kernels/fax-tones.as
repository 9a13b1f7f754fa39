// AssemblyScript. Fax group 4 decoded into transitions, and tones added up from them, without pixels in between;
// `npm run kernels` makes fax-tones-code.ts of it. Memory is laid out by `layOut`, nothing is ever allocated.
//
// A row is the ascending list of columns at which its colour changes, black first, closed by the row's width.
// Four copies and more of the width stand behind it, and -1 before it.

/** Codes by the next bits, lowest first: see fax-codes.ts. */
const GROUP_BITS: i32 = 10;
const GROUP_MASK: u64 = (1 << GROUP_BITS) - 1;
/** A number that is never written, and where a0 stands: there or in either row. */
const ZERO: usize = 1008;
const A0_AT: usize = 1012;
const GROUPS: usize = 1024;
const RUN_BITS: i32 = 13;
const RUN_MASK: u64 = (1 << RUN_BITS) - 1;
const WHITE_RUNS: usize = GROUPS + (16 << GROUP_BITS);
const BLACK_RUNS: usize = WHITE_RUNS + (2 << RUN_BITS);
const FREE: usize = BLACK_RUNS + (2 << RUN_BITS);

/** Bytes before a row's first transition and behind its last: 64 codes may be read between two looks at how far it goes. */
const BEFORE: usize = 16;
const BEHIND: usize = 384;
/** Kinds of codes; others are bad. */
const VERTICAL: u32 = 0;
const PASS: u32 = 1;
const HORIZONTAL: u32 = 2;
/** Entries of runs after which no code follows are above 0 and at most this. */
const SHORT: u32 = (64 << 4) - 1;
/** Of a row that is not coded as the recommendation has it. */
const IRREGULAR: i32 = -1;

let width: i32 = 0;
let tones: i32 = 0;
/** Columns of a block, which weigh as its middle does. */
let block: i32 = 1;
/** Coded bytes. */
let data: usize = 0;
/** The row above, and the row that is decoded: their first transitions. */
let reference: usize = 0;
let current: usize = 0;
/** Of the row decoded last: one past the transition that is its width. */
let currentEnd: usize = 0;
/** How far the row that is decoded may be read and written. */
let limit: usize = 0;
let full: usize = 0;
/** How ink changes at each column, over the rows of a band: two numbers of 16 bits as one of 32. */
let changes: usize = 0;
/** Of each span between centres of tones: columns, distance of the centres, what is added to a weight. */
let spans: usize = 0;
/** Sums over each span, by nearness to its left and to its right end. */
let lefts: usize = 0;
let rights: usize = 0;
/** What each tone has from the band above. */
let above: usize = 0;
/** 255 over the sum of weights of each column of tones. */
let scales: usize = 0;
let out: usize = 0;

export function groupsAt(): usize { return GROUPS; }
export function whiteRunsAt(): usize { return WHITE_RUNS; }
export function blackRunsAt(): usize { return BLACK_RUNS; }
export function dataAt(): usize { return data; }
export function spansAt(): usize { return spans; }
export function scalesAt(): usize { return scales; }
export function tonesAt(): usize { return out; }
/** The transitions of the row decoded last. */
export function rowAt(): usize { return reference; }

/** Lays out memory for rows of `columns` pixels, `across` tones and `bytes` coded bytes; returns how much it must have. */
export function layOut(columns: i32, across: i32, perBlock: i32, bytes: i32): usize {
  width = columns;
  tones = across;
  block = perBlock;
  const row = BEFORE + BEHIND + ((<usize>columns * 4 + 63) & ~63);
  const each = (<usize>across * 4 + 127) & ~63;
  data = FREE;
  reference = data + ((<usize>bytes + 127) & ~63) + BEFORE;
  current = reference + row;
  changes = current + row;
  spans = changes + row;
  lefts = spans + each;
  rights = lefts + each;
  above = rights + each;
  scales = above + each;
  out = scales + each;
  return out + each;
}

/** Begins a strip: the row above it is white. */
export function beginStrip(): void {
  store<i32>(reference - 4, -1);
  endRow(reference);
}

/** Closes a row whose transition at `end` is its width. */
function endRow(end: usize): void {
  const wide = i32x4.splat(width);
  v128.store(end, wide);
  v128.store(end, wide, 16);
  v128.store(end, wide, 32);
}

/** Reverses the bits of each of `bytes` bytes from `from` on, so that the first of a code is the lowest. */
export function turnBits(from: usize, bytes: i32): void {
  const nibbles = i8x16(0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15);
  const fifteen = i8x16.splat(15);
  for (let at = from; at < from + bytes; at += 16) {
    const sixteen = v128.load(at);
    const low = i8x16.swizzle(nibbles, v128.and(sixteen, fifteen));
    const high = i8x16.swizzle(nibbles, i8x16.shr_u(sixteen, 4));
    v128.store(at, v128.or(i8x16.shl(low, 4), high));
  }
}

/**
 * Decodes a row that begins at a bit of the data, of which `bytes` bytes are there; at least 16 more can be read behind.
 *
 * @returns the bit behind it, or IRREGULAR: bad code, transitions that do not ascend to the width, data too short
 */
export function decodeRow(bit: i32, bytes: i32): i32 {
  limit = data + bytes + 16;
  full = current + <usize>width * 4;
  let next = data + (bit >> 3);
  let bits: i32 = 56 - (bit & 7);
  let buffer = load<u64>(next) >> (bit & 7);
  next += 7;
  /** b1 in the row above, and where the row that is decoded goes on. */
  let b = reference;
  let to = current;
  store<usize>(A0_AT, ZERO);
  for (;;) {
    let group: usize;
    for (;;) {
      if (bits < 16) {
        buffer |= load<u64>(next) << bits;
        next += (63 - bits) >> 3;
        bits |= 56;
        if (next > limit || to > full) return IRREGULAR;
      }
      group = GROUPS + <usize>((buffer & GROUP_MASK) << 4);
      const meta = load<u32>(group);
      const needed = meta >> 24;
      if (needed == 0) break;
      b += meta >> 16 & 255;
      const places = i32x4.add(v128.load(b), v128.load16x4_s(group, 8));
      const isPlain = v128.andnot(i32x4.lt_s(places, v128.load(b, 4)), i32x4.lt_s(places, v128.load(b - 4)));
      if ((i32x4.bitmask(isPlain) & needed) != needed) {
        b -= meta >> 16 & 255;
        break;
      }
      v128.store(to, places);
      const stored = meta >> 8 & 255;
      to += stored;
      b += stored;
      store<usize>(A0_AT, (stored != 0 ? to : b) - 4);
      buffer >>= meta & 255;
      bits -= meta & 255;
    }
    const a0 = load<i32>(load<usize>(A0_AT));
    const single = load<u32>(group, 4);
    const kind = single >> 8 & 255;
    buffer >>= single & 255;
    bits -= single & 255;
    if (kind == HORIZONTAL) {
      const table = <i32>(to - current) & 4 ? BLACK_RUNS : WHITE_RUNS;
      const other = WHITE_RUNS + BLACK_RUNS - table;
      buffer |= load<u64>(next) << bits;
      next += (63 - bits) >> 3;
      bits |= 56;
      if (next > limit || to > full) return IRREGULAR;
      const one = <u32>load<u16>(table + <usize>((buffer & RUN_MASK) << 1));
      const rest = buffer >> (one & 15);
      const two = <u32>load<u16>(other + <usize>((rest & RUN_MASK) << 1));
      let a2: i32;
      if (one - 1 < SHORT && two - 1 < SHORT) {
        const a1 = a0 + (one >> 4);
        a2 = a1 + (two >> 4);
        buffer = rest >> (two & 15);
        bits -= (one & 15) + (two & 15);
        store<i32>(to, a1);
        store<i32>(to, a2, 4);
        to += 8;
        if (a2 > width) return IRREGULAR;
      } else {
        a2 = a0;
        for (let run = 0; run < 2; run++) {
          for (;;) {
            buffer |= load<u64>(next) << bits;
            next += (63 - bits) >> 3;
            bits |= 56;
            if (next > limit) return IRREGULAR;
            const entry = <u32>load<u16>((run ? other : table) + <usize>((buffer & RUN_MASK) << 1));
            if (entry == 0) return IRREGULAR;
            buffer >>= entry & 15;
            bits -= entry & 15;
            a2 += entry >> 4;
            if (a2 > width) return IRREGULAR;
            if (entry <= SHORT) break;
          }
          store<i32>(to, a2);
          to += 4;
        }
      }
      if (a2 == width) {
        if (load<i32>(to - 8) == width) to -= 4;
        break;
      }
      store<usize>(A0_AT, to - 4);
      b += <usize>(load<i32>(b) <= a2) << 3;
      while (load<i32>(b) <= a2) b += 8;
    } else if (kind == VERTICAL) {
      const a1 = load<i32>(b) + (<i32>single >> 16);
      if (a1 < a0 || a1 > width) return IRREGULAR;
      store<i32>(to, a1);
      store<usize>(A0_AT, to);
      to += 4;
      if (a1 == width) break;
      if (load<i32>(b - 4) > a1) b -= 4;
      else {
        b += 4;
        while (load<i32>(b) <= a1) b += 8;
      }
    } else if (kind == PASS) {
      store<usize>(A0_AT, b + 4);
      if (load<i32>(b, 4) >= width) return IRREGULAR;
      b += 8;
    } else {
      return IRREGULAR;
    }
  }
  endRow(to - 4);
  const first = current;
  if (!ascends(first, to)) return IRREGULAR;
  const end = <i32>(next - data) * 8 - bits;
  if (end > bytes * 8) return IRREGULAR;
  current = reference;
  reference = first;
  currentEnd = to;
  return end;
}

/** Whether transitions ascend from -1; the last is the width. */
function ascends(first: usize, end: usize): bool {
  let all = i32x4.splat(-1);
  let at = first;
  store<i32>(first - 4, -1);
  for (; at + 16 <= end; at += 16) all = v128.and(all, i32x4.gt_s(v128.load(at), v128.load(at - 4)));
  let does = i32x4.all_true(all);
  for (; at < end; at += 4) does = does && load<i32>(at) > load<i32>(at - 4);
  return does;
}

/** Adds the row decoded last to its band; `weights` are its two weights as one number. */
export function addRow(weights: i32): void {
  const end = currentEnd;
  let at = reference;
  for (; at + 8 <= end; at += 8) {
    const start = changes + (<usize>load<u32>(at) << 2);
    store<i32>(start, load<i32>(start) + weights);
    const stop = changes + (<usize>load<u32>(at, 4) << 2);
    store<i32>(stop, load<i32>(stop) - weights);
  }
  if (at < end) {
    const start = changes + (<usize>load<u32>(at) << 2);
    store<i32>(start, load<i32>(start) + weights);
  }
}

/** The ink of a column, on from the one before. */
// @ts-ignore: decorator
@inline
function inkAt(column: usize, ink: i32): i32 {
  return ink + load<i32>(column);
}

/** Adds a band's changes up, and sets them to nothing for the next. */
export function sumBand(): void {
  const last = changes + <usize>width * 4;
  const blockBytes = <usize>block * 4;
  let column = changes;
  let ink: i32 = 0;
  for (let span: usize = 0; span <= <usize>tones * 4; span += 4) {
    const shape = load<i32>(spans + span);
    const nominal = column + ((shape & 255) << 2);
    const end = nominal < last ? nominal : last;
    // the first of n blocks is in `sloping` n times, the last once
    let even: i32 = 0;
    let sloping: i32 = 0;
    if (block == 4) {
      for (; column + 16 <= end; column += 16) {
        ink = inkAt(column, ink);
        even += ink;
        ink = inkAt(column + 4, ink);
        even += ink;
        ink = inkAt(column + 8, ink);
        even += ink;
        ink = inkAt(column + 12, ink);
        even += ink;
        sloping += even;
      }
    } else if (block == 2) {
      for (; column + 8 <= end; column += 8) {
        ink = inkAt(column, ink);
        even += ink;
        ink = inkAt(column + 4, ink);
        even += ink;
        sloping += even;
      }
    }
    while (column < end) {
      const next = column + blockBytes < end ? column + blockBytes : end;
      for (; column < next; column += 4) {
        ink = inkAt(column, ink);
        even += ink;
      }
      sloping += even;
    }
    const left = 2 * block * sloping + (shape >> 16) * even;
    store<i32>(lefts + span, left);
    store<i32>(rights + span, (shape >> 8 & 255) * even - left);
  }
  memory.fill(changes, 0, <usize>(width + 1) * 4);
}

/** Makes the tones whose centres lie between the band above and this one, and keeps what the next get of this. */
export function makeTones(scale: f32, flip: i32): void {
  const low = i32x4.splat(0xffff);
  const scaleAll = f32x4.splat(scale);
  const half = f32x4.splat(0.5);
  for (let tone: usize = 0; tone < <usize>tones * 4; tone += 16) {
    const fromLeft = v128.load(rights + tone);
    const fromRight = v128.load(lefts + tone, 4);
    const upper = i32x4.add(v128.and(fromLeft, low), v128.and(fromRight, low));
    const lower = i32x4.add(i32x4.shr_u(fromLeft, 16), i32x4.shr_u(fromRight, 16));
    const sum = f32x4.convert_i32x4_s(i32x4.add(v128.load(above + tone), upper));
    v128.store(above + tone, lower);
    const level = f32x4.add(f32x4.mul(f32x4.mul(sum, v128.load(scales + tone)), scaleAll), half);
    const whole = i32x4.trunc_sat_f32x4_s(level);
    const bytes = i8x16.narrow_i16x8_u(i16x8.narrow_i32x4_s(whole, whole), whole);
    store<i32>(out + (tone >> 2), i32x4.extract_lane(bytes, 0) ^ flip);
  }
}
