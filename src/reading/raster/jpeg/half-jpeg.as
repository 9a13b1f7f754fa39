// AssemblyScript. A JPEG file's blocks decoded straight to fewer pixels; `npm run kernels` makes half-jpeg-code.ts of it.
// Memory is laid out by `layOut`, nothing is ever allocated. Bits are read from the lowest of each byte: whoever puts a
// stretch of coded data there has each byte turned round by `beginStretch`.

/** Bits that codes are looked up by, and those that are left of a longer one; see code-entries.ts. */
const CODE_BITS: i32 = 11;
const CODE_MASK: u32 = (1 << CODE_BITS) - 1;
const REST_MASK: u32 = 31;
/** What an entry says besides its length, advance and value: its value is still to be read; it is longer, or bad. */
const UNREAD: u32 = 0x40;
const LONGER: u32 = 0x80;
/** Components: tables of codes for the mean and the others, of places, the last mean, the plane's first byte. */
const COMPONENT_BYTES: usize = 32;
const COMPONENTS: usize = 1024;
/** Four columns of waves by four rows, and what is of no use behind them. */
const WAVES: usize = COMPONENTS + 4 * COMPONENT_BYTES;
/** The bits of 11 turned round. */
const TURNED: usize = WAVES + 128;
/** By which waves count in the pixels of a row: 16 numbers for all columns of blocks but the last, and for the last. */
const ACROSS: usize = TURNED + 4096;
/** By which they count in each row of pixels: 16 numbers, each four times. */
const DOWN: usize = ACROSS + 128;
/** Tables: codes, as many as there can be of 256 symbols; places with their steps. */
const CODES: usize = DOWN + 256;
const CODES_BYTES: usize = (2048 + 256 * 32) * 8;
const PLACES: usize = CODES + 8 * CODES_BYTES;
const PLACES_BYTES: usize = 192 * 8;
const FREE: usize = PLACES + 4 * PLACES_BYTES;
/** A block takes at most so many bytes: 64 codes of 16 bits with values of 11. */
const BLOCK_BYTES: usize = 216;
/** Added to a number below 2^22 it leaves its nearest whole in the lower bits. */
const TO_WHOLE: f32 = 12582912;
const WHOLE: i32 = 0x4b400000;

let components: i32 = 0;
let columns: i32 = 0;
/** Pixels of a row of a plane. */
let stride: usize = 0;
let out: usize = 0;
let data: usize = 0;
/** The next column of blocks. */
let column: i32 = 0;
let next: usize = 0;
let bits: u64 = 0;
let held: i32 = 0;
let dataEnd: usize = 0;

export function componentsAt(): usize { return COMPONENTS; }
export function wavesAt(): usize { return WAVES; }
export function turnedAt(): usize { return TURNED; }
export function downAt(): usize { return DOWN; }
export function codesAt(table: i32): usize { return CODES + <usize>table * CODES_BYTES; }
export function placesAt(component: i32): usize { return PLACES + <usize>component * PLACES_BYTES; }
export function acrossAt(): usize { return ACROSS; }
export function dataAt(): usize { return data; }
export function outAt(): usize { return out; }

/**
 * Lays out memory for `count` components in `across` columns of blocks that become `width` pixels, and `bytes` coded bytes; returns
 * how much it must have. Behind the data there is room to read on for a row of blocks.
 */
export function layOut(count: i32, across: i32, width: i32, bytes: i32): usize {
  components = count;
  columns = across;
  // a picture that was refused may have left off within a row and within a block
  column = 0;
  for (let at: usize = 0; at < 64; at += 8) store<u64>(WAVES + at, 0);
  stride = (<usize>width + 31) & ~15;
  const planes = FREE;
  for (let c = 0; c < count; c++) store<u32>(COMPONENTS + c * COMPONENT_BYTES, planes + c * 4 * stride, 16);
  data = planes + (<usize>count * 4 + 1) * stride;
  out = data + ((<usize>bytes + 127) & ~63) + <usize>columns * count * BLOCK_BYTES;
  return out + 4 * <usize>width * count + 64;
}

/** A byte with its bits turned round. */
// @ts-ignore: decorator
@inline
function turned(byte: u32): u32 {
  return <u32>load<u16>(TURNED + (byte << 1)) >> 3;
}

/**
 * Makes the coded data from `from` ready up to the next marker or to `end`, and begins to read it.
 * Returns where the marker stands.
 */
export function beginStretch(from: usize, end: usize): usize {
  const low = i8x16.splat(15);
  const each = i8x16(0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15);
  let to = from;
  next = from;
  bits = 0;
  held = 0;
  for (let c = 0; c < components; c++) store<i32>(COMPONENTS + c * COMPONENT_BYTES, 0, 12);
  while (from < end) {
    while (from + 16 <= end) {
      const sixteen = v128.load(from);
      if (v128.any_true(i8x16.eq(sixteen, i8x16.splat(-1)))) break;
      const upper = i8x16.shl(i8x16.swizzle(each, v128.and(sixteen, low)), 4);
      v128.store(to, v128.or(upper, i8x16.swizzle(each, i8x16.shr_u(sixteen, 4))));
      from += 16;
      to += 16;
    }
    // a byte of ones is one only where nothing follows it
    const until = from + 16;
    while (from < until && from < end) {
      const byte = <u32>load<u8>(from);
      if (byte == 255) {
        if (from + 1 >= end || load<u8>(from + 1) != 0) {
          dataEnd = to;
          return from;
        }
        from++;
      }
      store<u8>(to, turned(byte));
      from++;
      to++;
    }
  }
  dataEnd = to;
  return end;
}

/** Whether no more was read than the stretch has. */
export function isWithin(): bool {
  return next <= dataEnd + (<usize>held >> 3);
}

/** An entry whose value was not looked up with its code, with it; with `UNREAD` or `LONGER` where it is bad. */
function wholeEntry(entry: u32, ahead: u64, table: usize): u32 {
  if (entry & LONGER) {
    if (entry & UNREAD) return entry;
    const rest = <u32>(ahead >> CODE_BITS) & REST_MASK;
    entry = load<u32>(table + (((entry >> 16) + rest) << 3));
    if (entry & LONGER) return entry;
  }
  if (!(entry & UNREAD)) return entry;
  const length = entry & 31;
  const size = (entry >> 16) & 15;
  const read = <u32>(ahead >> length) & ((1 << size) - 1);
  let value = <i32>(<u32>load<u16>(TURNED + (read << 1)) >> (11 - size));
  if (value < 1 << (size - 1)) value -= (1 << size) - 1;
  return (<u32>value << 16) | (entry & 0x7f00) | (length + size);
}

/** Four pixels of a row from four waves, and their nearest whole levels. */
// @ts-ignore: decorator
@inline
function rowOf(waves: v128, a0: v128, a1: v128, a2: v128, a3: v128): v128 {
  const even = f32x4.add(
    f32x4.mul(v128.shuffle<f32>(waves, waves, 0, 0, 0, 0), a0),
    f32x4.mul(v128.shuffle<f32>(waves, waves, 2, 2, 2, 2), a2)
  );
  const odd = f32x4.add(
    f32x4.mul(v128.shuffle<f32>(waves, waves, 1, 1, 1, 1), a1),
    f32x4.mul(v128.shuffle<f32>(waves, waves, 3, 3, 3, 3), a3)
  );
  return i32x4.sub(f32x4.add(f32x4.add(even, odd), f32x4.splat(TO_WHOLE)), i32x4.splat(WHOLE));
}
// @ts-ignore: decorator
@inline
function wavesOfRow(row: usize, r0: v128, r1: v128, r2: v128, r3: v128): v128 {
  return f32x4.add(
    f32x4.add(f32x4.mul(r0, v128.load(DOWN + row)), f32x4.mul(r2, v128.load(DOWN + row + 128))),
    f32x4.add(f32x4.mul(r1, v128.load(DOWN + row + 64)), f32x4.mul(r3, v128.load(DOWN + row + 192)))
  );
}

/** Puts the pixels of a block at `to`, four rows of four, and leaves no waves behind. */
// @ts-ignore: decorator
@inline
function putBlock(to: usize, basis: usize): void {
  const r0 = v128.load(WAVES);
  const r1 = v128.load(WAVES + 16);
  const r2 = v128.load(WAVES + 32);
  const r3 = v128.load(WAVES + 48);
  const nothing = i32x4.splat(0);
  v128.store(WAVES, nothing);
  v128.store(WAVES + 16, nothing);
  v128.store(WAVES + 32, nothing);
  v128.store(WAVES + 48, nothing);
  const a0 = v128.load(basis);
  const a1 = v128.load(basis + 16);
  const a2 = v128.load(basis + 32);
  const a3 = v128.load(basis + 48);
  const upper = i16x8.narrow_i32x4_s(
    rowOf(wavesOfRow(0, r0, r1, r2, r3), a0, a1, a2, a3),
    rowOf(wavesOfRow(16, r0, r1, r2, r3), a0, a1, a2, a3)
  );
  const lower = i16x8.narrow_i32x4_s(
    rowOf(wavesOfRow(32, r0, r1, r2, r3), a0, a1, a2, a3),
    rowOf(wavesOfRow(48, r0, r1, r2, r3), a0, a1, a2, a3)
  );
  const levels = i8x16.narrow_i16x8_u(
    i16x8.add(upper, i16x8.splat(128)),
    i16x8.add(lower, i16x8.splat(128))
  );
  v128.store32_lane(to, levels, 0);
  v128.store32_lane(to + stride, levels, 1);
  v128.store32_lane(to + stride * 2, levels, 2);
  v128.store32_lane(to + stride * 3, levels, 3);
}

/** Adds up a wave of an entry's value at its place. */
// @ts-ignore: decorator
@inline
function addWave(place: usize, entry: u32): void {
  const wave = <usize>load<u32>(place);
  store<f32>(wave, load<f32>(wave) + <f32>(<i32>entry >> 16) * load<f32>(place, 4));
}

/** Decodes the next `count` columns of blocks of all components. Returns whether they are coded as they must be. */
export function decodeBlocks(count: i32): bool {
  let at = next;
  let ahead = bits;
  let have = held;
  const ends = column + count;
  for (; column < ends; column++) {
    const left = <usize>column << 2;
    const basis = column == columns - 1 ? ACROSS + 64 : ACROSS;
    for (let c = 0; c < components; c++) {
      const component = COMPONENTS + c * COMPONENT_BYTES;
      const places = <usize>load<u32>(component, 8);
      const to = <usize>load<u32>(component, 16) + left;
      ahead |= load<u64>(at) << have;
      at += (63 - have) >> 3;
      have |= 56;
      let table = <usize>load<u32>(component);
      let entry = load<u32>(table + ((<u32>ahead & CODE_MASK) << 3));
      if (entry & (UNREAD | LONGER)) {
        entry = wholeEntry(entry, ahead, table);
        if (entry & (UNREAD | LONGER)) return false;
      }
      ahead >>= entry & 63;
      have -= entry & 63;
      const mean = load<i32>(component, 12) + (<i32>entry >> 16);
      store<i32>(component, mean, 12);
      store<f32>(WAVES, <f32>mean * load<f32>(places, 4));

      table = <usize>load<u32>(component, 4);
      let place: usize = places;
      const last = places + 63 * 8;
      do {
        ahead |= load<u64>(at) << have;
        at += (63 - have) >> 3;
        have |= 56;
        const both = load<u64>(table + ((<u32>ahead & CODE_MASK) << 3));
        entry = <u32>both;
        let second = <u32>(both >> 32);
        if (entry & (UNREAD | LONGER)) {
          entry = wholeEntry(entry, ahead, table);
          if (entry & (UNREAD | LONGER)) return false;
          second = entry & 63;
        }
        place += (entry >> 5) & 0x3f8;
        addWave(place, entry);
        if (place == last) {
          // what was seen behind it is the next block's
          ahead >>= second & 63;
          have -= second & 63;
          break;
        }
        ahead >>= entry & 63;
        have -= entry & 63;
        place += (second >> 5) & 0x3f8;
        addWave(place, second);
      } while (place < last);
      putBlock(to, basis);
    }
  }
  next = at;
  bits = ahead;
  held = have;
  return true;
}

// @ts-ignore: decorator
@inline
function fourOf(at: usize): v128 {
  return i32x4.extend_low_i16x8_u(i16x8.extend_low_i8x16_u(v128.load32_zero(at)));
}
// @ts-ignore: decorator
@inline
function bytesOf(red: v128, green: v128, blue: v128, fourth: v128): v128 {
  const four = i8x16.narrow_i16x8_u(i16x8.narrow_i32x4_s(red, green), i16x8.narrow_i32x4_s(blue, fourth));
  return v128.shuffle<u8>(four, four, 0, 4, 8, 12, 1, 5, 9, 13, 2, 6, 10, 14, 3, 7, 11, 15);
}

/** Puts row `row` of the planes at `to`, pixel by pixel; `isYcc`: as luminance and two differences; all bits turned by `flip`. */
function putRow(row: i32, to: usize, width: i32, isYcc: bool, flip: v128): void {
  const first = <usize>load<u32>(COMPONENTS, 16) + row * stride;
  const second = first + 4 * stride;
  const third = first + 8 * stride;
  const fourth = first + (components == 4 ? 12 * stride : 0);
  for (let x: usize = 0; x < <usize>width; x += 4) {
    let a = fourOf(first + x);
    let b = fourOf(second + x);
    let c = fourOf(third + x);
    if (isYcc) {
      // ITU-T T.871, 7: constants in parts of 65536
      const half = i32x4.splat(32768);
      const blue = i32x4.sub(b, i32x4.splat(128));
      const red = i32x4.sub(c, i32x4.splat(128));
      const luminance = i32x4.add(i32x4.shl(a, 16), half);
      a = i32x4.shr_s(i32x4.add(luminance, i32x4.mul(red, i32x4.splat(91881))), 16);
      b = i32x4.shr_s(
        i32x4.sub(
          luminance,
          i32x4.add(i32x4.mul(blue, i32x4.splat(22554)), i32x4.mul(red, i32x4.splat(46802)))
        ),
        16
      );
      c = i32x4.shr_s(i32x4.add(luminance, i32x4.mul(blue, i32x4.splat(116130))), 16);
      if (components == 4) {
        const full = i32x4.splat(255);
        a = i32x4.sub(full, a);
        b = i32x4.sub(full, b);
        c = i32x4.sub(full, c);
      }
    }
    const pixels = bytesOf(a, b, c, fourOf(fourth + x));
    if (components == 4) {
      v128.store(to + x * 4, v128.xor(pixels, flip));
    } else {
      const three = v128.shuffle<u8>(pixels, pixels, 0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14, 0, 0, 0, 0);
      v128.store(to + x * 3, v128.xor(three, flip));
    }
  }
}

/** Ends a row of blocks: puts its `rows` rows of pixels together. */
export function endRow(rows: i32, width: i32, isYcc: bool, isFlipped: bool): void {
  const flip = i8x16.splat(isFlipped ? -1 : 0);
  column = 0;
  for (let row = 0; row < rows; row++) {
    const to = out + <usize>row * width * components;
    if (components != 1) {
      putRow(row, to, width, isYcc, flip);
      continue;
    }
    const from = <usize>load<u32>(COMPONENTS, 16) + row * stride;
    for (let x = 0; x < width; x += 16) v128.store(to + x, v128.xor(v128.load(from + x), flip));
  }
}
