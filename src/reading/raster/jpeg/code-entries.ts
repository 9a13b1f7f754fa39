import type { CodeTable } from './jpeg-frame.ts';

/** Bits that codes are looked up by at first; longer ones by the bits that are left of sixteen. */
const FIRST_BITS = 11;
const MORE_BITS = 16 - FIRST_BITS;
const [FIRST, MORE] = [1 << FIRST_BITS, 1 << MORE_BITS];
/** Flags of an entry: its value is still to be read; its code is longer. Both: no code begins so. */
const UNREAD = 0x40;
const LONGER = 0x80;
const BAD = UNREAD | LONGER;
const LENGTH = 0x3f;
const ADVANCE_SHIFT = 8;
const ADVANCE = 0x7f;
const VALUE_SHIFT = 16;
/** An advance that ends the block. */
const END = 64;
const ZEROS = 0xf0;
/** Bits of a value at most: of a mean, of a wave. */
const MOST_BITS = { means: 11, waves: 10 } as const;

/** What a symbol says: how far the place moves on, how many bits its value has. */
interface Meaning {
  readonly advance: number;
  readonly size: number;
}

/**
 * What the next bits, lowest first, stand for, two numbers of 32 bits an entry. The first: how many bits are taken in bits
 * 0 to 5; from bit 8 by how much the place moves on; from bit 16 the value. Where only the code but not its value lies
 * within the bits that were looked up, the number of the value's bits stands for it, flagged as unread. Where the code itself
 * is longer, it is flagged so, and from bit 16 stands which entry is the first of those that the next bits choose from.
 * The second number, of waves: by how much a second code that is seen in full moves the place on, its value, and the bits
 * of the first alone, in the same places; where none is seen, by nothing.
 *
 * @returns null where the counts leave no room for their codes
 * @source ITU-T T.81, annex C (codes from their counts) and F.1.2 (values and runs), from memory; held against libjpeg by
 * the tests
 */
export function codeEntries({ counts, symbols }: CodeTable, of: 'means' | 'waves'): Uint32Array | null {
  const first = new Uint32Array(FIRST).fill(BAD);
  const longer = new Map<number, Uint32Array>();
  let [code, at] = [0, 0];
  for (let length = 1; length <= 16; length++, code <<= 1) {
    for (let n = 0; n < counts[length - 1]!; n++, code++, at++) {
      if (code >= 1 << length) return null;
      const turned = turnedBits(code, length);
      const meaning = meaningOf(symbols[at]!, of);
      if (length <= FIRST_BITS) putEntries(first, turned, length, meaning);
      else putLonger(longer, turned, length, meaning);
    }
  }
  const all = new Uint32Array(2 * (FIRST + longer.size * MORE));
  let next = FIRST;
  for (const [begin, rest] of longer) {
    first[begin] = (next << VALUE_SHIFT) | LONGER;
    for (const entry of rest) all[2 * next++] = entry;
  }
  for (let bits = 0; bits < FIRST; bits++) {
    all.set(of === 'waves' ? withSecond(first, bits) : [first[bits]!, 0], 2 * bits);
  }
  return all;
}

/** Null where a symbol may not stand. */
function meaningOf(symbol: number, of: 'means' | 'waves'): Meaning | null {
  const size = symbol & 15;
  if (of === 'means') return symbol <= MOST_BITS.means ? { advance: 0, size } : null;
  if (size > 0) return size <= MOST_BITS.waves ? { advance: (symbol >> 4) + 1, size } : null;
  if (symbol === 0) return { advance: END, size };
  return symbol === ZEROS ? { advance: 16, size } : null;
}

/** All entries that begin with a code, with the values that are seen in full. */
function putEntries(first: Uint32Array, turned: number, length: number, meaning: Meaning | null): void {
  const size = meaning?.size ?? 0;
  if (meaning === null || length + size > FIRST_BITS) {
    const entry = entryOf(meaning, length);
    for (let bits = turned; bits < FIRST; bits += 1 << length) first[bits] = entry;
    return;
  }
  for (let read = 0; read < 1 << size; read++) {
    const value = size === 0 ? 0 : valueOf(turnedBits(read, size), size);
    const entry = (value << VALUE_SHIFT) | (meaning.advance << ADVANCE_SHIFT) | (length + size);
    for (let bits = turned | (read << length); bits < FIRST; bits += 1 << (length + size)) first[bits] = entry;
  }
}

/** The entries of a code that is not seen in full, under the bits that it begins with. */
function putLonger(longer: Map<number, Uint32Array>, turned: number, length: number, meaning: Meaning | null): void {
  const begin = turned & (FIRST - 1);
  const rest = longer.get(begin) ?? new Uint32Array(MORE).fill(BAD);
  longer.set(begin, rest);
  const entry = entryOf(meaning, length);
  for (let bits = turned >> FIRST_BITS; bits < MORE; bits += 1 << (length - FIRST_BITS)) rest[bits] = entry;
}

function entryOf(meaning: Meaning | null, length: number): number {
  if (meaning === null) return BAD;
  const { advance, size } = meaning;
  return (size << VALUE_SHIFT) | (advance << ADVANCE_SHIFT) | (size > 0 ? UNREAD : 0) | length;
}

/** An entry with the code behind it, if that is seen in full as well and the block does not end in between. */
function withSecond(first: Uint32Array, bits: number): readonly [number, number] {
  const one = first[bits]!;
  if ((one & BAD) !== 0) return [one, 0];
  const length = one & LENGTH;
  const other = first[bits >> length]!;
  const sum = length + (other & LENGTH);
  const ends = ((one >> ADVANCE_SHIFT) & ADVANCE) === END;
  if (ends || (other & BAD) !== 0 || sum > FIRST_BITS) return [one, length];
  return [(one & ~LENGTH) | sum, (other & ~LENGTH) | length];
}

/** Values begin with 1, or are negative and begin with 0. */
function valueOf(bits: number, size: number): number {
  return bits < 1 << (size - 1) ? bits - (1 << size) + 1 : bits;
}

/** Bits that `half-jpeg.as` turns round by a table: as many as a value has at most. */
export const TURNED_BITS = MOST_BITS.means;

/** The lowest bits in the opposite order. */
export function turnedBits(bits: number, count: number): number {
  let turned = 0;
  for (let bit = 0; bit < count; bit++) turned |= ((bits >> bit) & 1) << (count - 1 - bit);
  return turned;
}
