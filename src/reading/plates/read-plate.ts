import { open, type FileHandle } from 'node:fs/promises';
import { basename } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import type { Limits, Ppi } from '../../model/index.ts';
import { MM_PER_INCH, Refusal } from '../../model/index.ts';
import { faxSquare } from './fax-square.ts';
import { faxTones } from './fax-tones.ts';
import type { InkTones, PlateSquare, Square } from './ink-tones.ts';
import type { TiffHeader } from './tiff-header.ts';
import { readTiffHeader } from './tiff-header.ts';
import { stripsAround } from './strips-around.ts';

/** What a plate's file says of it. */
export interface PlateHeader {
  readonly pixelWidth: number;
  readonly pixelHeight: number;
  readonly bits: 1 | 8;
  readonly ppi: { readonly x: Ppi; readonly y: Ppi };
  /** As the file has it; most have none. */
  readonly inkName: string | null;
}

/** A picture of all inks at once, which screeners leave beside the plates; it is none of them. */
export interface CompositeHeader {
  readonly composite: true;
  readonly pixelWidth: number;
  readonly pixelHeight: number;
  readonly ppi: PlateHeader['ppi'];
}

/**
 * Codings, and to how many pixels a byte can unfold at most; for fax codings, in which a row takes at least a bit, to how
 * many rows.
 *
 * @source TIFF 6.0 sections 8 to 11 and 13; Deflate by RFC 1951 at most 1032 to 1
 */
const CODINGS: Readonly<Record<number, { readonly times: number; readonly of: 'bytes' | 'rows' }>> = {
  1: { times: 1, of: 'bytes' },
  2: { times: 8, of: 'rows' },
  3: { times: 8, of: 'rows' },
  4: { times: 8, of: 'rows' },
  5: { times: 4096, of: 'bytes' },
  8: { times: 1032, of: 'bytes' },
  32946: { times: 1032, of: 'bytes' },
  32773: { times: 64, of: 'bytes' },
};
const WHITE_IS_ZERO = 0;
const BLACK_IS_ZERO = 1;

/**
 * Reads what a plate's file says, before anything of its picture is decoded.
 *
 * @param name  how refusals call the file
 * @throws {Refusal} unreadable: no TIFF, damaged, truncated, without resolution, or not one ink in 1 or 8 bits; too-large:
 * more pixels or millimetres than `limits` allow, or more than the file can hold
 */
export async function readPlateHeader(
  path: string,
  limits: Pick<Limits, 'platePixels' | 'pageMm'>,
  name = basename(path),
): Promise<PlateHeader | CompositeHeader> {
  const file = await open(path).catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT')
      throw new Refusal('not-found', { what: name });
    throw new Refusal('unreadable', { file: name, reason: error instanceof Error ? error.message : String(error) });
  });
  try {
    const header = await readTiffHeader(file, name);
    requireSize(header, (await file.stat()).size, name, limits);
    const { width, height, bits, samples, photometric, ppi, inkName } = header;
    const isComposite = samples === 4;
    if (!isComposite && (samples !== 1 || (bits !== 1 && bits !== 8))) {
      throw refused(name, `one ink in 1 or 8 bits is expected, ${samples} in ${bits} bits found`);
    }
    if (!isComposite && photometric !== WHITE_IS_ZERO && photometric !== BLACK_IS_ZERO) {
      throw refused(name, `it does not say whether 0 is paper or ink (photometric ${photometric})`);
    }
    if (ppi === null) throw refused(name, 'it does not say its resolution');
    for (const [pixels, perInch] of [
      [width, ppi.x],
      [height, ppi.y],
    ] as const) {
      const mm = (pixels / perInch) * MM_PER_INCH;
      if (mm > limits.pageMm) {
        throw new Refusal('too-large', { what: name, limit: limits.pageMm, found: Math.round(mm), unit: 'mm' });
      }
    }
    const size = { pixelWidth: width, pixelHeight: height, ppi };
    if (isComposite) return { composite: true, ...size };
    return { ...size, bits: bits === 1 ? 1 : 8, inkName };
  } finally {
    await file.close();
  }
}

function requireSize(
  { width, height, bits, samples, compression }: TiffHeader,
  bytes: number,
  name: string,
  { platePixels }: Pick<Limits, 'platePixels'>,
): void {
  if (width * height > platePixels) {
    throw new Refusal('too-large', { what: name, limit: platePixels, found: width * height, unit: 'pixels' });
  }
  const coding = CODINGS[compression];
  if (coding === undefined) throw refused(name, `plates are not stored in TIFF coding ${compression}`);
  const declared = coding.of === 'rows' ? height : Math.ceil((width * bits * samples) / 8) * height;
  if (declared > bytes * coding.times) {
    throw refused(name, `it declares ${width} by ${height} pixels, more than its ${bytes} bytes can hold: truncated`);
  }
}

/**
 * Brings a plate down to tones, each the mean of what lies under it: of one in fax group 4 from its runs, of others by the
 * library. Read in pieces: memory does not grow with the plate. The result has at most as many pixels as the plate.
 *
 * @throws {Refusal} unreadable: its picture is damaged
 */
export async function shrinkPlate(file: NamedFile, size: Pick<InkTones, 'width' | 'height'>): Promise<InkTones> {
  return (await ifOpen(file, (handle) => faxTones(handle, file.name, size))) ?? shrinkByLibrary(file, size);
}

/** What is made of a file; null where it cannot be opened, which the library puts into words. */
async function ifOpen<T>({ path }: NamedFile, make: (file: FileHandle) => Promise<T | null>): Promise<T | null> {
  const file = await open(path).catch(() => null);
  if (file === null) return null;
  try {
    return await make(file);
  } finally {
    await file.close();
  }
}

async function shrinkByLibrary(
  file: NamedFile,
  { width, height }: Pick<InkTones, 'width' | 'height'>,
): Promise<InkTones> {
  const usual = sharp.concurrency();
  // one goes on decoding while the other shrinks what there is
  sharp.concurrency(Math.max(usual, 2));
  try {
    // the triangle over two pixels each way takes screens away better than the mean of one
    return await decode(file, (image) =>
      image.resize({ width, height, fit: 'fill', kernel: 'linear', fastShrinkOnLoad: false }),
    );
  } finally {
    sharp.concurrency(usual);
  }
}

/**
 * A square of a plate as it stands. Of a plate in strips only those are decoded that it lies in.
 *
 * @throws {Refusal} unreadable: its picture is damaged
 */
export async function cutPlate(file: NamedFile, square: Square): Promise<PlateSquare> {
  return (await ifOpen(file, (handle) => faxSquare(handle, file.name, square))) ?? cutByLibrary(file, square);
}

async function cutByLibrary(file: NamedFile, { left, top, side }: Square): Promise<PlateSquare> {
  const strips = await stripsAround(file, { top, count: side });
  const within = { left, top: top - (strips?.top ?? 0), width: side, height: side };
  return decode({ ...file, bytes: strips?.tiff }, (image) => image.extract(within));
}

/** A file and how refusals call it. */
export interface NamedFile {
  readonly path: string;
  readonly name: string;
}

async function decode(
  { path, name, bytes }: NamedFile & { readonly bytes?: Buffer | undefined },
  change: (image: Sharp) => Sharp,
): Promise<InkTones> {
  try {
    // the header was held against the file before; a plate in one strip is more than the library's own limit
    const image = sharp(bytes ?? path, {
      limitInputPixels: false,
      unlimited: true,
      sequentialRead: true,
      failOn: 'error',
    });
    const { data, info } = await change(image)
      .toColourspace('b-w')
      .negate()
      .raw()
      .toBuffer({ resolveWithObject: true });
    if (info.channels !== 1) throw refused(name, 'it has more than one ink');
    return { width: info.width, height: info.height, data };
  } catch (cause) {
    if (cause instanceof Refusal) throw cause;
    const reason = cause instanceof Error ? cause.message.split('\n')[0]! : String(cause);
    throw new Refusal('unreadable', { file: name, reason: `its picture is damaged: ${reason}` }, cause);
  }
}

function refused(file: string, reason: string): Refusal {
  return new Refusal('unreadable', { file, reason });
}
