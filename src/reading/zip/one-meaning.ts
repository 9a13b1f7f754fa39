import { open } from 'node:fs/promises';
import type { Entry, LocalFileHeader, ZipFile } from 'yauzl';
import { Refusal } from '../../model/index.ts';

/** Bit 3 of a member's flags: its sizes and checksum follow its bytes, and what stands before them counts for nothing. */
const FOLLOWS = 0b1000;
/** In a field of four bytes: the number stands among the extra fields of ZIP64. */
const ELSEWHERE = 0xff_ff_ff_ff;
/** Bytes of the record at the end, without its remark. */
const END = 22;

/**
 * Requires that every program takes the same members out of a ZIP. It says everything twice, before the bytes and in the
 * directory at its end, and some programs believe the one, some the other: what they say must be the same, and the
 * directory must lie where the record behind it says.
 *
 * @param size  bytes of the ZIP
 * @returns where the bytes of each member begin
 * @throws {Refusal} malformed: it says two things of one member, or of itself
 * @throws {Error} the library's own, where a header cannot be read
 * @source PKWARE, APPNOTE 6.3.10 (2022), 4.3.7 (local header), 4.3.12 (directory), 4.3.16 (end), 4.4.3 (version needed)
 */
export async function requireOneMeaning(
  { path, size, zip }: { path: string; size: number; zip: ZipFile },
  entries: readonly Entry[],
  { what, zipEdition }: { readonly what: string; readonly zipEdition: number },
): Promise<readonly number[]> {
  await requireDirectoryBeforeEnd(path, size, Buffer.byteLength(zip.comment), what);
  const starts: number[] = [];
  for (const entry of entries) {
    const header = await headerOf(zip, entry);
    const at = disagreement(header, entry, zipEdition);
    if (at !== undefined) throw twoThings(what, `${entry.fileName.slice(0, 80)} with another ${at}`);
    starts.push(header.fileDataStart);
  }
  return starts;
}

/** What the header before the bytes says otherwise than the directory. */
function disagreement(header: LocalFileHeader, entry: Entry, zipEdition: number): string | undefined {
  if (!header.fileName.equals(entry.fileNameRaw)) return 'name';
  if (header.generalPurposeBitFlag !== entry.generalPurposeBitFlag) return 'set of flags';
  if (header.compressionMethod !== entry.compressionMethod) return 'way of packing';
  if (header.versionNeededToExtract !== entry.versionNeededToExtract) return 'edition of the format';
  if (entry.versionNeededToExtract > zipEdition) return 'edition of the format than any that is known';
  if ((entry.generalPurposeBitFlag & FOLLOWS) !== 0) return undefined;
  if (header.crc32 !== entry.crc32) return 'checksum';
  const isSame = (before: number, after: number): boolean => before === after || before === ELSEWHERE;
  const { compressedSize, uncompressedSize } = header;
  return isSame(compressedSize, entry.compressedSize) && isSame(uncompressedSize, entry.uncompressedSize)
    ? undefined
    : 'size';
}

function headerOf(zip: ZipFile, entry: Entry): Promise<LocalFileHeader> {
  return new Promise((resolve, reject) => {
    zip.readLocalFileHeader(entry, { minimal: false }, (error, header) =>
      error === null ? resolve(header) : reject(error),
    );
  });
}

async function requireDirectoryBeforeEnd(path: string, size: number, remark: number, what: string): Promise<void> {
  const at = size - END - remark;
  const file = await open(path);
  try {
    const { buffer: end } = await file.read(Buffer.alloc(END), 0, END, at);
    const [length, start] = [end.readUInt32LE(12), end.readUInt32LE(16)];
    if (length === ELSEWHERE || start === ELSEWHERE || start + length === at) return;
    throw twoThings(what, `a directory of ${length} bytes, where there are ${at - start}`);
  } finally {
    await file.close();
  }
}

function twoThings(what: string, found: string): Refusal {
  return new Refusal('malformed', { pointer: what, expected: 'one meaning for every program', found });
}
