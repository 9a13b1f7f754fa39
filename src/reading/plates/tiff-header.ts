import type { FileHandle } from 'node:fs/promises';
import { Refusal } from '../../model/index.ts';

/** What a TIFF says of its first picture, checked against the file that holds it. */
export interface TiffHeader {
  readonly width: number;
  readonly height: number;
  readonly bits: number;
  readonly samples: number;
  /** TIFF 6.0 section 8: 0 white is zero, 1 black is zero, 5 separated. */
  readonly photometric: number;
  readonly compression: number;
  /** Pixels an inch across and down; null where the file does not say. */
  readonly ppi: { readonly x: number; readonly y: number } | null;
  /** Of separated files. */
  readonly inkName: string | null;
}

const TAG = {
  newSubfileType: 254,
  width: 256,
  height: 257,
  bits: 258,
  compression: 259,
  photometric: 262,
  stripOffsets: 273,
  orientation: 274,
  samples: 277,
  stripBytes: 279,
  xResolution: 282,
  yResolution: 283,
  resolutionUnit: 296,
  tileOffsets: 324,
  tileBytes: 325,
  inkNames: 333,
} as const;
/** Bytes of a value by type. @source TIFF 6.0 section 2, and the types that large files add */
const TYPE_BYTES: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 13: 4, 16: 8 };
const MOST_ENTRIES = 4096;
const MOST_PICTURES = 16;
/** Rows as they stand, read one by one. */
const UNCODED = 1;
/** A coded strip is read whole. */
const MOST_STRIP_BYTES = 2 ** 29;
/** Inks in one file, each with its name. */
const MOST_NAME_BYTES = 4096;

/**
 * Reads a TIFF's first directory, and nothing of its picture.
 *
 * @param name  how refusals call the file
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated, or with several pictures; too-large: a strip that is no strip
 * @source TIFF 6.0 (1992) sections 2 and 8; large files have 8-byte offsets
 */
export async function readTiffHeader(file: FileHandle, name: string): Promise<TiffHeader> {
  const reader = await openReader(file, name);
  const { directory, pictures } = await reader.directories();
  if (pictures > 1) throw damaged(name, `it holds ${pictures} pictures where one plate is expected`);
  const one = async (tag: number, otherwise: number | null): Promise<number> => {
    const entry = directory.get(tag);
    if (entry === undefined) {
      if (otherwise !== null) return otherwise;
      throw damaged(name, `its directory lacks entry ${tag}`);
    }
    const [value] = await reader.values(entry, 1);
    return value!;
  };
  const [width, height] = [await one(TAG.width, null), await one(TAG.height, null)];
  if (!(width > 0 && height > 0)) throw damaged(name, `it declares ${width} by ${height} pixels`);
  if ((await one(TAG.orientation, 1)) !== 1) throw damaged(name, 'it is stored turned or mirrored');
  const compression = await one(TAG.compression, 1);
  await requireWhole(reader, directory, name, compression !== UNCODED);
  const perUnit = [await one(TAG.xResolution, 0), await one(TAG.yResolution, 0)] as const;
  const unit = { 2: 1, 3: 2.54 }[await one(TAG.resolutionUnit, 2)] ?? 0;
  const ppi = perUnit.map((value) => value * unit);
  return {
    width,
    height,
    bits: await one(TAG.bits, 1),
    samples: await one(TAG.samples, 1),
    photometric: await one(TAG.photometric, null),
    compression,
    ppi: ppi.every((value) => value > 0 && Number.isFinite(value)) ? { x: ppi[0]!, y: ppi[1]! } : null,
    inkName: await reader.text(directory.get(TAG.inkNames)),
  };
}

interface Entry {
  readonly type: number;
  readonly count: number;
  /** Where its values stand, in the directory itself or elsewhere. */
  readonly at: number;
}
type Directory = ReadonlyMap<number, Entry>;
type Reader = Awaited<ReturnType<typeof openReader>>;

async function openReader(file: FileHandle, name: string) {
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
    values,
    async directories() {
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
    async text(entry: Entry | undefined): Promise<string | null> {
      if (entry?.type !== 2) return null;
      const found = await bytes(entry.at, Math.min(entry.count, MOST_NAME_BYTES));
      return found.toString('utf8').split('\0')[0]!.trim() || null;
    },
  };
}

/** A file cut short still has a directory where that stands first; its strips tell. */
async function requireWhole(reader: Reader, directory: Directory, name: string, coded: boolean): Promise<void> {
  const tiled = directory.has(TAG.tileOffsets);
  const offsets = directory.get(tiled ? TAG.tileOffsets : TAG.stripOffsets);
  const lengths = directory.get(tiled ? TAG.tileBytes : TAG.stripBytes);
  if (offsets === undefined || lengths === undefined) throw damaged(name, 'it has no picture data');
  if (offsets.count !== lengths.count) throw damaged(name, 'its strips have no lengths');
  if (offsets.count > reader.size) throw damaged(name, 'it ends before its directory does: truncated');
  const starts = await reader.values(offsets, offsets.count);
  const sizes = await reader.values(lengths, lengths.count);
  const longest = sizes.reduce((most, size) => Math.max(most, size), 0);
  if (coded && longest > MOST_STRIP_BYTES) {
    throw new Refusal('too-large', { what: name, limit: MOST_STRIP_BYTES, found: longest, unit: 'bytes in one strip' });
  }
  const end = starts.reduce((most, start, index) => Math.max(most, start + sizes[index]!), 0);
  if (end > reader.size) {
    throw damaged(name, `it is truncated: ${end} bytes are needed, ${reader.size} are there`);
  }
}

function damaged(file: string, reason: string): Refusal {
  return new Refusal('unreadable', { file, reason });
}
