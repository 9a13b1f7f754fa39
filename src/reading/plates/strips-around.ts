import { open } from 'node:fs/promises';
import { tiffFile } from '../tiff-file.ts';
import type { TiffEntry } from '../tiff-file.ts';
import { openTiff, TAG } from './tiff-directory.ts';

/** Some rows of a plate as a TIFF of their own. */
export interface PlateStrips {
  readonly tiff: Buffer;
  /** Which row of the plate is its first. */
  readonly top: number;
}

/** What says how a strip is coded; it is copied as it stands. */
const OF_CODING = [
  TAG.bits,
  TAG.compression,
  TAG.photometric,
  TAG.fillOrder,
  TAG.samples,
  TAG.t4Options,
  TAG.t6Options,
  TAG.predictor,
] as const;
/** Strips that are together larger are not taken out. */
const MOST_BYTES = 2 ** 26;

/**
 * Takes the strips that hold some rows out of a plate, coded as they are: each is coded on its own, so that no other
 * has to be decoded for it.
 *
 * @returns null where the plate is not in strips of some rows each
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated
 * @source TIFF 6.0 (1992) section 8: strips; sections 10 and 11: fax codings begin anew with each
 */
export async function stripsAround(
  { path, name }: { readonly path: string; readonly name: string },
  rows: { readonly top: number; readonly count: number },
): Promise<PlateStrips | null> {
  const file = await open(path);
  try {
    const { values, bytes, directories } = await openTiff(file, name);
    const { directory } = await directories();
    const list = async (tag: number): Promise<readonly number[]> => {
      const entry = directory.get(tag);
      return entry === undefined ? [] : values(entry, entry.count);
    };
    const [[width], [height], [perStrip]] = [
      await list(TAG.width),
      await list(TAG.height),
      await list(TAG.rowsPerStrip),
    ];
    const [starts, sizes] = [await list(TAG.stripOffsets), await list(TAG.stripBytes)];
    if (width === undefined || height === undefined || perStrip === undefined || starts.length < 2) return null;
    const first = Math.floor(rows.top / perStrip);
    const end = Math.min(starts.length, Math.floor((rows.top + rows.count - 1) / perStrip) + 1);
    const lengths = sizes.slice(first, end);
    if (lengths.length !== end - first || lengths.reduce((sum, length) => sum + length, 0) > MOST_BYTES) return null;
    const data = await Promise.all(lengths.map((length, index) => bytes(starts[first + index]!, length)));
    const entries: TiffEntry[] = [
      [TAG.width, 'long', width],
      [TAG.height, 'long', Math.min(height, end * perStrip) - first * perStrip],
      [TAG.rowsPerStrip, 'long', perStrip],
      [TAG.stripBytes, 'long', ...lengths],
    ];
    for (const tag of OF_CODING) {
      const [value] = await list(tag);
      if (value !== undefined) entries.push([tag, 'long', value]);
    }
    return { tiff: tiffFile(data, entries), top: first * perStrip };
  } finally {
    await file.close();
  }
}
