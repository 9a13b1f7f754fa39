/**
 * Codes of fax group 4 as tables by the next bits of the data, the first bit lowest.
 *
 * @source ITU-T T.4 (2003) tables 2, 3a and 3b; ITU-T T.6 (1988) table 1; from memory, held against libtiff by the tests
 */

/** Bits of a group of vertical codes that is told by one look; of a run. */
const GROUP_BITS = 10;
const RUN_BITS = 13;
const MOST_IN_GROUP = 4;
const KIND = { vertical: 0, pass: 1, horizontal: 2, bad: 3 } as const;

const VERTICAL: Readonly<Record<string, number>> = {
  '1': 0,
  '011': 1,
  '000011': 2,
  '0000011': 3,
  '010': -1,
  '000010': -2,
  '0000010': -3,
};
const PASS = '0001';
const HORIZONTAL = '001';

const WHITE_TERMINATING =
  '00110101 000111 0111 1000 1011 1100 1110 1111 10011 10100 00111 01000 001000 000011 110100 110101 101010 101011 ' +
  '0100111 0001100 0001000 0010111 0000011 0000100 0101000 0101011 0010011 0100100 0011000 00000010 00000011 00011010 ' +
  '00011011 00010010 00010011 00010100 00010101 00010110 00010111 00101000 00101001 00101010 00101011 00101100 ' +
  '00101101 00000100 00000101 00001010 00001011 01010010 01010011 01010100 01010101 00100100 00100101 01011000 ' +
  '01011001 01011010 01011011 01001010 01001011 00110010 00110011 00110100';
const BLACK_TERMINATING =
  '0000110111 010 11 10 011 0011 0010 00011 000101 000100 0000100 0000101 0000111 00000100 00000111 000011000 ' +
  '0000010111 0000011000 0000001000 00001100111 00001101000 00001101100 00000110111 00000101000 00000010111 ' +
  '00000011000 000011001010 000011001011 000011001100 000011001101 000001101000 000001101001 000001101010 ' +
  '000001101011 000011010010 000011010011 000011010100 000011010101 000011010110 000011010111 000001101100 ' +
  '000001101101 000011011010 000011011011 000001010100 000001010101 000001010110 000001010111 000001100100 ' +
  '000001100101 000001010010 000001010011 000000100100 000000110111 000000111000 000000100111 000000101000 ' +
  '000001011000 000001011001 000000101011 000000101100 000001011010 000001100110 000001100111';
/** From 64 to 1728. */
const WHITE_MAKE_UP =
  '11011 10010 010111 0110111 00110110 00110111 01100100 01100101 01101000 01100111 011001100 011001101 011010010 ' +
  '011010011 011010100 011010101 011010110 011010111 011011000 011011001 011011010 011011011 010011000 010011001 ' +
  '010011010 011000 010011011';
const BLACK_MAKE_UP =
  '0000001111 000011001000 000011001001 000001011011 000000110011 000000110100 000000110101 0000001101100 ' +
  '0000001101101 0000001001010 0000001001011 0000001001100 0000001001101 0000001110010 0000001110011 0000001110100 ' +
  '0000001110101 0000001110110 0000001110111 0000001010010 0000001010011 0000001010100 0000001010101 0000001011010 ' +
  '0000001011011 0000001100100 0000001100101';
/** Of both colours, from 1792 to 2560. */
const LONG_MAKE_UP =
  '00000001000 00000001100 00000001101 000000010010 000000010011 000000010100 000000010101 000000010110 ' +
  '000000010111 000000011100 000000011101 000000011110 000000011111';

/** The tables that `kernels/fax-tones.as` reads, as it reads them. */
export interface FaxTables {
  /**
   * 16 bytes an entry. Of the passes that the bits begin with and the vertical codes behind them, as far as they are
   * whole, at most four: how many bits they take, how many bytes of transitions they make, how many bytes of the row
   * above are passed, a bit for each place that must stand between its neighbours in that row; and at the end how far each
   * vertical code goes (four times 16 bits). In between the first code alone: its bits, its kind, how far it goes (16 bits).
   */
  readonly groups: Uint8Array;
  /** 16 bits an entry: four of them the length of the code, above them the run; 0 where there is none. */
  readonly whiteRuns: Uint16Array;
  readonly blackRuns: Uint16Array;
}

/** Makes the tables, low bytes first. */
export function faxTables(): FaxTables {
  return {
    groups: groupTable(),
    whiteRuns: runTable(runCodes(WHITE_TERMINATING, WHITE_MAKE_UP)),
    blackRuns: runTable(runCodes(BLACK_TERMINATING, BLACK_MAKE_UP)),
  };
}

function runCodes(terminating: string, makeUp: string): ReadonlyMap<string, number> {
  const codes = new Map(terminating.split(' ').map((code, run) => [code, run]));
  for (const [index, code] of `${makeUp} ${LONG_MAKE_UP}`.split(' ').entries()) codes.set(code, (index + 1) * 64);
  return codes;
}

function runTable(codes: ReadonlyMap<string, number>): Uint16Array {
  const table = new Uint16Array(1 << RUN_BITS);
  for (const [code, run] of codes) {
    const first = lowestFirst(code);
    for (let bits = first; bits < table.length; bits += 1 << code.length) table[bits] = code.length | (run << 4);
  }
  return table;
}

function lowestFirst(code: string): number {
  return Number.parseInt([...code].reverse().join(''), 2);
}

function groupTable(): Uint8Array {
  const table = new Uint8Array(16 << GROUP_BITS);
  const view = new DataView(table.buffer);
  const vertical = Object.entries(VERTICAL);
  for (let index = 0; index < 1 << GROUP_BITS; index++) {
    const bits = [...index.toString(2).padStart(GROUP_BITS, '0')].reverse().join('');
    const at = index * 16;
    let [taken, passes, count] = [0, 0, 0];
    for (; bits.startsWith(PASS, taken); taken += PASS.length) passes += 1;
    while (count < MOST_IN_GROUP) {
      const found = vertical.find(([code]) => bits.startsWith(code, taken));
      if (found === undefined) break;
      view.setInt16(at + 8 + count * 2, found[1], true);
      taken += found[0].length;
      count += 1;
    }
    view.setUint8(at, taken);
    view.setUint8(at + 1, count * 4);
    view.setUint8(at + 2, passes * 8);
    view.setUint8(at + 3, taken === 0 ? 0 : (1 << Math.max(1, count)) - 1);
    const [length, kind, shift] = firstOf(bits);
    view.setUint8(at + 4, length);
    view.setUint8(at + 5, kind);
    view.setInt16(at + 6, shift, true);
  }
  return table;
}

function firstOf(bits: string): readonly [length: number, kind: number, shift: number] {
  for (const [code, shift] of Object.entries(VERTICAL)) {
    if (bits.startsWith(code)) return [code.length, KIND.vertical, shift];
  }
  if (bits.startsWith(PASS)) return [PASS.length, KIND.pass, 0];
  if (bits.startsWith(HORIZONTAL)) return [HORIZONTAL.length, KIND.horizontal, 0];
  return [0, KIND.bad, 0];
}
