import type { FileHandle } from 'node:fs/promises';
import { Refusal } from '../../model/index.ts';
import type { Directory, TiffReader } from './tiff-directory.ts';
import { damaged, openTiff, TAG } from './tiff-directory.ts';

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

/** Rows as they stand, read one by one. */
const UNCODED = 1;
/** A coded strip is read whole. */
const MOST_STRIP_BYTES = 2 ** 29;

/**
 * Reads a TIFF's first directory, and nothing of its picture.
 *
 * @param name  how refusals call the file
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated, or with several pictures; too-large: a strip that is no strip
 * @source TIFF 6.0 (1992) section 8
 */
export async function readTiffHeader(file: FileHandle, name: string): Promise<TiffHeader> {
  const reader = await openTiff(file, name);
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

/** A file cut short still has a directory where that stands first; its strips tell. */
async function requireWhole(reader: TiffReader, directory: Directory, name: string, coded: boolean): Promise<void> {
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
