import type { FileHandle } from 'node:fs/promises';
import { BEHIND, type FaxRows } from './kernels/fax-tones.ts';
import { openTiff, TAG } from './tiff-directory.ts';

/** A plate of one bit in fax group 4, in strips of rows. */
export interface FaxPlate {
  readonly width: number;
  readonly height: number;
  /** Rows of a strip. */
  readonly perStrip: number;
  readonly strips: readonly { readonly start: number; readonly bytes: number }[];
  /** Whether the first bit of a code is the highest of its byte. */
  readonly highFirst: boolean;
  /** Whether what is coded as black is paper. */
  readonly blackIsPaper: boolean;
}

const GROUP_4 = 4;
/** Memory grows by a few bytes with each. */
const MOST_WIDE = 2 ** 20;
/** Coded bytes that are taken at once. */
const PIECE = 2 ** 20;

/**
 * Reads where the rows of a plate are coded.
 *
 * @returns null where it is not in fax group 4 and in strips
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated
 * @source TIFF 6.0 (1992) sections 8 and 11
 */
export async function findFaxPlate(file: FileHandle, name: string): Promise<FaxPlate | null> {
  const { values, directories } = await openTiff(file, name);
  const { directory } = await directories();
  const list = async (tag: number): Promise<readonly number[]> => {
    const entry = directory.get(tag);
    return entry === undefined ? [] : values(entry, entry.count);
  };
  const one = async (tag: number, otherwise: number): Promise<number> => {
    const entry = directory.get(tag);
    return entry === undefined ? otherwise : (await values(entry, 1))[0]!;
  };
  const [width, height] = [await one(TAG.width, 0), await one(TAG.height, 0)];
  const photometric = await one(TAG.photometric, -1);
  const fillOrder = await one(TAG.fillOrder, 1);
  const isGroup4 =
    (await one(TAG.compression, 1)) === GROUP_4 &&
    (await one(TAG.bits, 1)) === 1 &&
    (await one(TAG.samples, 1)) === 1 &&
    (photometric === 0 || photometric === 1) &&
    (fillOrder === 1 || fillOrder === 2);
  if (!isGroup4 || !(width > 0 && height > 0) || width > MOST_WIDE) return null;
  const [starts, sizes] = [await list(TAG.stripOffsets), await list(TAG.stripBytes)];
  const perStrip = Math.min(height, await one(TAG.rowsPerStrip, height));
  if (perStrip === 0 || starts.length !== Math.ceil(height / perStrip) || sizes.length !== starts.length) return null;
  const strips = starts.map((start, index) => ({ start, bytes: sizes[index]! }));
  return { width, height, perStrip, strips, highFirst: fillOrder === 1, blackIsPaper: photometric === 1 };
}

/**
 * How many coded bytes a kernel must hold at once.
 *
 * @source ITU-T T.6 (1988): no code takes more than 8 bits for each pixel that it goes on, but for a last run of no pixels
 */
export function bytesHeld({ width }: Pick<FaxPlate, 'width'>): number {
  return PIECE + mostOfRow(width);
}

function mostOfRow(width: number): number {
  return width + 16;
}

/**
 * Decodes rows of a plate one after the other, from the first row of the strip that `from` lies in.
 *
 * @param seeRow  is called with the number of each, while the kernel has it
 * @returns whether all were coded as they must be and came
 */
export async function decodeRows(
  file: FileHandle,
  plate: FaxPlate,
  rows: FaxRows,
  { from, until }: { readonly from: number; readonly until: number },
  seeRow: (row: number) => void,
): Promise<boolean> {
  const { data, turnBits, beginStrip, decodeRow } = rows;
  const enoughBits = mostOfRow(plate.width) * 8;
  const readInto = readerOf(file);
  for (let strip = Math.floor(from / plate.perStrip); strip * plate.perStrip < until; strip++) {
    let { start, bytes: left } = plate.strips[strip]!;
    let [bit, held] = [0, 0];
    beginStrip();
    const end = Math.min(until, (strip + 1) * plate.perStrip);
    for (let row = strip * plate.perStrip; row < end; row++) {
      if (left > 0 && held * 8 - bit < enoughBits) {
        data.copyWithin(0, bit >> 3, held);
        held -= bit >> 3;
        bit &= 7;
        const taken = Math.min(left, data.length - BEHIND - held);
        if (!(await readInto(data.subarray(held, held + taken), start))) return false;
        if (plate.highFirst) turnBits(held, taken);
        held += taken;
        data.fill(0, held, held + BEHIND);
        start += taken;
        left -= taken;
      }
      bit = decodeRow(bit, held);
      if (bit < 0) return false;
      seeRow(row);
    }
  }
  return true;
}

/** Reads a file in large pieces, also where little of it is wanted at a time. The answer is whether all came. */
function readerOf(file: FileHandle): (into: Uint8Array, at: number) => Promise<boolean> {
  let piece = new Uint8Array();
  let pieceAt = 0;
  const read = async (into: Uint8Array, at: number): Promise<number> => {
    let done = 0;
    while (done < into.length) {
      const { bytesRead } = await file.read(into, done, into.length - done, at + done);
      if (bytesRead === 0) break;
      done += bytesRead;
    }
    return done;
  };
  return async (into, at) => {
    if (into.length >= PIECE / 2) return (await read(into, at)) === into.length;
    if (at < pieceAt || at + into.length > pieceAt + piece.length) {
      const fresh = new Uint8Array(PIECE);
      piece = fresh.subarray(0, await read(fresh, at));
      pieceAt = at;
    }
    const found = piece.subarray(at - pieceAt, at - pieceAt + into.length);
    into.set(found);
    return found.length === into.length;
  };
}
