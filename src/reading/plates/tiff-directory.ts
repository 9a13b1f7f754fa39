import type { FileHandle } from 'node:fs/promises';
import { Refusal } from '../../model/index.ts';

/** @source TIFF 6.0 (1992) sections 8, 10, 11, 14, 15 */
export const TAG = {
  newSubfileType: 254,
  width: 256,
  height: 257,
  bits: 258,
  compression: 259,
  photometric: 262,
  fillOrder: 266,
  stripOffsets: 273,
  orientation: 274,
  samples: 277,
  rowsPerStrip: 278,
  stripBytes: 279,
  xResolution: 282,
  yResolution: 283,
  t4Options: 292,
  t6Options: 293,
  resolutionUnit: 296,
  predictor: 317,
  tileOffsets: 324,
  tileBytes: 325,
  inkNames: 333,
} as const;
/** Bytes of a value by type. @source TIFF 6.0 section 2, and the types that large files add */
const TYPE_BYTES: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 13: 4, 16: 8 };
const MOST_ENTRIES = 4096;
const MOST_PICTURES = 16;
/** Inks in one file, each with its name. */
const MOST_NAME_BYTES = 4096;

/** An entry of a directory. */
export interface Entry {
  readonly type: number;
  readonly count: number;
  /** Where its values stand, in the directory itself or elsewhere. */
  readonly at: number;
}
/** Entries by their tag. */
export type Directory = ReadonlyMap<number, Entry>;
/** Reads a file's directories. */
export type TiffReader = Awaited<ReturnType<typeof openTiff>>;

/**
 * Opens a TIFF, of which nothing but its directories is read.
 *
 * @param name  how refusals call the file
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated; so do its functions
 * @source TIFF 6.0 (1992) section 2; large files have 8-byte offsets
 */
export async function openTiff(file: FileHandle, name: string) {
  const { size } = await file.stat();
  const bytes = async (at: number, length: number): Promise<Buffer> => {
    if (!(at >= 0 && at + length <= size)) throw damaged(name, 'it ends before its directory does: truncated');
    const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, at);
    if (bytesRead < length) throw damaged(name, 'it shrank while it was read');
    return buffer;
  };
  if (size < 8) throw damaged(name, size === 0 ? 'the file is empty' : 'it is no TIFF');
  const head = await bytes(0, 8);
  const order = head.toString('latin1', 0, 2);
  if (order !== 'II' && order !== 'MM') throw damaged(name, 'it is no TIFF');
  const little = order === 'II';
  const number = (from: Buffer, at: number, length: number): number => {
    if (length <= 4) return little ? from.readUIntLE(at, length) : from.readUIntBE(at, length);
    return Number(little ? from.readBigUInt64LE(at) : from.readBigUInt64BE(at));
  };
  const magic = number(head, 2, 2);
  if (magic !== 42 && magic !== 43) throw damaged(name, 'it is no TIFF');
  const large = magic === 43;
  const word = large ? 8 : 4;
  const first = large ? number(await bytes(8, 8), 0, 8) : number(head, 4, 4);

  const directoryAt = async (at: number): Promise<{ entries: Directory; next: number }> => {
    const countBytes = large ? 8 : 2;
    const count = number(await bytes(at, countBytes), 0, countBytes);
    if (count === 0 || count > MOST_ENTRIES) throw damaged(name, `a directory of ${count} entries`);
    const entryBytes = 4 + 2 * word;
    const table = await bytes(at + countBytes, count * entryBytes + word);
    const entries = new Map<number, Entry>();
    for (let index = 0; index < count; index++) {
      const from = index * entryBytes;
      const type = number(table, from + 2, 2);
      const values = number(table, from + 4, word);
      const length = (TYPE_BYTES[type] ?? 0) * values;
      const inside = at + countBytes + from + 4 + word;
      const place = length <= word ? inside : number(table, from + 4 + word, word);
      entries.set(number(table, from, 2), { type, count: values, at: place });
    }
    return { entries, next: number(table, count * entryBytes, word) };
  };

  /** The first `most` values of an entry, as numbers. */
  const values = async ({ type, count, at }: Entry, most: number): Promise<readonly number[]> => {
    const length = TYPE_BYTES[type];
    if (length === undefined || count === 0) throw damaged(name, 'an entry of its directory has no value');
    const taken = Math.min(count, most);
    const from = await bytes(at, taken * length);
    return Array.from({ length: taken }, (_, index) =>
      type === 5
        ? number(from, index * 8, 4) / Math.max(1, number(from, index * 8 + 4, 4))
        : number(from, index * length, length),
    );
  };

  return {
    size,
    bytes,
    values,
    async directories(this: void) {
      const { entries, next } = await directoryAt(first);
      let pictures = 1;
      for (let at = next, seen = 1; at !== 0; seen++) {
        if (seen > MOST_PICTURES) throw damaged(name, 'its directories do not end');
        const more = await directoryAt(at);
        const kind = more.entries.get(TAG.newSubfileType);
        // a smaller copy to look at is no further plate
        if (kind === undefined || ((await values(kind, 1))[0]! & 1) === 0) pictures += 1;
        at = more.next;
      }
      return { directory: entries, pictures };
    },
    async text(this: void, entry: Entry | undefined): Promise<string | null> {
      if (entry?.type !== 2) return null;
      const found = await bytes(entry.at, Math.min(entry.count, MOST_NAME_BYTES));
      return found.toString('utf8').split('\0')[0]!.trim() || null;
    },
  };
}

/** A file that is not what a TIFF must be. */
export function damaged(file: string, reason: string): Refusal {
  return new Refusal('unreadable', { file, reason });
}
