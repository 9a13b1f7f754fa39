import type { Mm, Ppi } from '../../../model/index.ts';
import { MM_PER_INCH, Refusal } from '../../../model/index.ts';
import type { NamedPlate, PlateSet, PlateShift } from '../../../plates/index.ts';
import type { CompositeHeader, PlateHeader, TonesOnDisk } from '../../../reading/index.ts';
import type { SeenPlate } from '../../page-jobs.ts';
import type { ReadingTools } from '../../read-file.ts';
import { describeFile, runJob } from '../../read-file.ts';
import type { LentPlate, PlateFile } from './plate-file.ts';

/** Pages are cut out of at least this, ten pixels a millimetre; at 200 an inch the shapes of type are no longer told. */
export const TONES_PPI: Ppi = 10 * MM_PER_INCH;

/** A plate before its picture is read. */
export interface FoundPlate extends NamedPlate {
  /** Lends the file it lies in. */
  lend<T>(this: void, use: (path: string) => Promise<T>): Promise<T>;
  /** Of a PDF that has one page for each ink, from 1; null for a file of its own. */
  readonly page: number | null;
  readonly header: PlateHeader;
  /** Of the file, or of what the page draws. */
  readonly sha256: string;
  readonly bytes: number;
}

/** A plate that was read, with its tones put aside. */
export interface ReadPlate extends FoundPlate, SeenPlate {
  readonly tones: TonesOnDisk;
  readonly look: TonesOnDisk;
  /** Against most plates of its side; null where it shares nothing with them, or is left out. */
  readonly shift: PlateShift | null;
}

/** The plates of all sides; page `n` of the sheets is set `n - 1`. */
export interface ReadPlates {
  readonly sets: readonly PlateSet<ReadPlate>[];
}

/**
 * Plates that are files of their own, by what their headers say; pictures of all inks are left out.
 *
 * @throws {Refusal} unreadable, too-large, not-found: one of them, or none is a plate
 */
export async function tiffPlates(files: readonly PlateFile[], tools: ReadingTools): Promise<readonly FoundPlate[]> {
  const found = await Promise.all(
    files.map(async (plate): Promise<readonly FoundPlate[]> => {
      const { header, sha256, bytes } = await headerOf(plate, tools);
      if ('composite' in header) return [];
      const { inkName } = header;
      const lend: FoundPlate['lend'] = (use) => plate.lend(({ path }) => use(path));
      const size = sizeOf(header);
      return [{ lend, page: null, header, file: plate.name, inkName, setName: null, ...size, sha256, bytes }];
    }),
  );
  const plates = found.flat();
  if (plates.length > 0) return plates;
  throw new Refusal('unreadable', { file: files[0]!.name, reason: 'it has all inks at once and is no plate' });
}

/** A plate's file, and what it says of itself. */
export interface PlateFacts extends Omit<LentPlate, 'path'> {
  readonly header: PlateHeader | CompositeHeader;
}

/** Reads what a plate says of itself. @throws {Refusal} unreadable, too-large, not-found: the plate */
export function headerOf({ name, lend }: PlateFile, tools: ReadingTools): Promise<PlateFacts> {
  const { limits } = tools;
  return lend(async ({ path, sha256, bytes }) => ({
    ...{ sha256, bytes },
    header: await runJob(tools, { do: 'plate-header', path, name, limits }),
  }));
}

/** How large a plate is. */
export function sizeOf({ pixelWidth, pixelHeight, ppi }: PlateHeader | CompositeHeader): { width: Mm; height: Mm } {
  return { width: mm(pixelWidth, ppi.x), height: mm(pixelHeight, ppi.y) };
}

/**
 * Plates that are the pages of one PDF.
 *
 * @param name  how people know it
 * @returns null where its pages are no plates: sheets as pages
 * @throws {Refusal} unreadable, too-large, not-found: the file as a whole, or one of its plates
 */
export async function pdfPlates(
  path: string,
  name: string,
  tools: ReadingTools,
): Promise<readonly FoundPlate[] | null> {
  const separated = await runJob(tools, { do: 'separated', path, limits: tools.limits });
  if (separated === null) return null;
  const { pages, identity } = await describeFile(tools, path, () => undefined);
  return separated.map(({ pageNumber, ink, side }): FoundPlate => {
    const page = pages[pageNumber - 1]!;
    const file = `${name}, page ${pageNumber}`;
    if ('unreadable' in page) throw new Refusal('unreadable', { file, reason: page.unreadable });
    const { width, height } = page.trimmed;
    const pixels = (length: Mm): number => Math.round((length * TONES_PPI) / MM_PER_INCH);
    const header: PlateHeader = {
      pixelWidth: pixels(width),
      pixelHeight: pixels(height),
      bits: 8,
      ppi: { x: TONES_PPI, y: TONES_PPI },
      inkName: ink,
    };
    const { bytes } = identity;
    return {
      lend: (use) => use(path),
      page: pageNumber,
      header,
      file,
      inkName: ink,
      setName: `side ${side}`,
      width,
      height,
      sha256: page.contentHash,
      bytes,
    };
  });
}

function mm(pixels: number, ppi: Ppi): Mm {
  return (pixels / ppi) * MM_PER_INCH;
}
