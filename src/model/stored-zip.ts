import { joinBytes } from './join-bytes.ts';

/** A file that goes into a ZIP as it is. */
export interface StoredFile {
  readonly name: string;
  readonly bytes: number;
  /** As `crc32` gives it. */
  readonly crc32: number;
}

/** Signatures of the records. @source PKWARE, APPNOTE 6.3.10 (2022), 4.3.7, 4.3.12, 4.3.14, 4.3.15, 4.3.16 */
const SIGNATURE = { local: 0x04034b50, central: 0x02014b50, end64: 0x06064b50, locator64: 0x07064b50, end: 0x06054b50 };
/** Tenths of the edition that knows folders, and of the one that knows 8-byte sizes. @source APPNOTE 4.4.3.2 */
const EDITION = { plain: 20, large: 45 };
/** Names are UTF-8. @source APPNOTE 4.4.4, bit 11 */
const UTF8 = 0x0800;
/** Made by a Unix program, a plain file that its owner writes. @source APPNOTE 4.4.2, 4.4.15 */
const MADE_BY_UNIX = 3 << 8;
const PLAIN_FILE = 0o100644 * 2 ** 16;
/** 1 January 1980, so that the same files give the same ZIP on any day. @source APPNOTE 4.4.6 */
const FIRST_DAY = 0x0021;
const MOST_32 = 0xffff_ffff;
const MOST_16 = 0xffff;

/**
 * A ZIP of files as they are: the bytes between them, and in their places the files themselves, in the order given.
 * Whoever has the files can send it without ever having it whole.
 *
 * @source PKWARE, APPNOTE 6.3.10 (2022): 4.3.7 local header, 4.3.12 directory, 4.3.14 to 4.3.16 its end, 4.5.3 large sizes
 */
export function storedZip<F extends StoredFile>(files: readonly F[]): readonly (Uint8Array<ArrayBuffer> | F)[] {
  const pieces: (Uint8Array<ArrayBuffer> | F)[] = [];
  const directory: Uint8Array<ArrayBuffer>[] = [];
  let offset = 0;
  const add = (bytes: Uint8Array<ArrayBuffer>): void => {
    pieces.push(bytes);
    offset += bytes.length;
  };
  for (const file of files) {
    const start = offset;
    add(localHeader(file, start));
    pieces.push(file);
    offset += file.bytes;
    directory.push(entryOf(file, start));
  }
  const start = offset;
  directory.forEach(add);
  add(endOf(files.length, { start, length: offset - start }));
  return pieces;
}

/** Both headers of a file say the same edition. */
function isLarge({ bytes }: StoredFile, start: number): boolean {
  return bytes >= MOST_32 || start >= MOST_32;
}

function localHeader(file: StoredFile, start: number): Uint8Array<ArrayBuffer> {
  const name = new TextEncoder().encode(file.name);
  const large = isLarge(file, start);
  const size = large ? MOST_32 : file.bytes;
  const extra = large ? extraOf([file.bytes, file.bytes]) : NOTHING;
  return joinBytes([
    ...[four(SIGNATURE.local), two(large ? EDITION.large : EDITION.plain), two(UTF8), two(0), two(0), two(FIRST_DAY)],
    ...[four(file.crc32), four(size), four(size), two(name.length), two(extra.length), name, extra],
  ]);
}

function entryOf(file: StoredFile, start: number): Uint8Array<ArrayBuffer> {
  const name = new TextEncoder().encode(file.name);
  const large = isLarge(file, start);
  const edition = large ? EDITION.large : EDITION.plain;
  const size = large ? MOST_32 : file.bytes;
  const extra = large ? extraOf([file.bytes, file.bytes, start]) : NOTHING;
  return joinBytes([
    ...[four(SIGNATURE.central), two(MADE_BY_UNIX + edition), two(edition), two(UTF8), two(0), two(0), two(FIRST_DAY)],
    ...[four(file.crc32), four(size), four(size), two(name.length), two(extra.length), two(0), two(0), two(0)],
    ...[four(PLAIN_FILE), four(large ? MOST_32 : start), name, extra],
  ]);
}

function endOf(count: number, { start, length }: { readonly start: number; readonly length: number }) {
  const large = count >= MOST_16 || start >= MOST_32 || length >= MOST_32;
  const files = two(large ? MOST_16 : count);
  const end = [four(SIGNATURE.end), two(0), two(0), files, files];
  const where = [four(large ? MOST_32 : length), four(large ? MOST_32 : start), two(0)];
  if (!large) return joinBytes([...end, ...where]);
  const edition = two(EDITION.large);
  return joinBytes([
    ...[four(SIGNATURE.end64), eight(44), edition, edition, four(0), four(0), eight(count), eight(count)],
    ...[eight(length), eight(start), four(SIGNATURE.locator64), four(0), eight(start + length), four(1)],
    ...[...end, ...where],
  ]);
}

/** Sizes that four bytes do not hold. @source APPNOTE 4.5.3: header 1 */
function extraOf(values: readonly number[]): Uint8Array<ArrayBuffer> {
  return joinBytes([two(1), two(8 * values.length), ...values.map(eight)]);
}

const NOTHING = new Uint8Array();

function two(value: number): Uint8Array<ArrayBuffer> {
  return Uint8Array.of(value & 0xff, (value >>> 8) & 0xff);
}

function four(value: number): Uint8Array<ArrayBuffer> {
  return Uint8Array.of(value, value >>> 8, value >>> 16, value >>> 24);
}

function eight(value: number): Uint8Array<ArrayBuffer> {
  return joinBytes([four(value % 2 ** 32), four(Math.floor(value / 2 ** 32))]);
}

const POLYNOMIAL = 0xedb88320;
const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) value = (value >>> 1) ^ (value & 1 ? POLYNOMIAL : 0);
  return value;
});

/**
 * The checksum that a ZIP has of a file.
 *
 * @param before  of what stands before these bytes
 * @source PKWARE, APPNOTE 6.3.10 (2022), 4.4.7
 */
export function crc32(bytes: Uint8Array, before = 0): number {
  let value = ~before;
  for (let at = 0; at < bytes.length; at++) value = (value >>> 8) ^ TABLE[(value ^ bytes[at]!) & 0xff]!;
  return ~value >>> 0;
}
