import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, sep } from 'node:path';
import { Readable } from 'node:stream';
import { crc32 } from 'node:zlib';
import { Refusal, storedZip, type StoredFile } from '../../model/index.ts';
import { fileIdentity } from '../../reading/pool/index.ts';

/** What goes over the line as one file: one that lies here, or plates as a ZIP that is never written. */
export interface SentBytes {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
  /** A part of it, the end left out. */
  slice(this: void, start: number, end: number): Readable;
}

/** Bytes in the order in which they are sent: their own, or those of a file. */
type Piece = Uint8Array | (StoredFile & { readonly path: string });

/** Read in pieces of a mebibyte: a call each, and two thirds of the time of the usual 64 KiB. */
const READ_BYTES = 2 ** 20;

const PLATE = /\.tiff?$/i;
/** What programs leave beside what somebody keeps. @source common practice, no source */
const HIDDEN = /(^|[/\\])[.~]/;

/**
 * What is to be sent of what was named: a file as it lies, or the plates in a folder, or named one by one, as one ZIP. The
 * same plates give the same ZIP, so that what broke off goes on.
 *
 * @throws {Refusal} not-found: nothing of that name; unreadable: a folder without a plate, or a file among several that is none
 */
export async function openSent(paths: readonly string[]): Promise<SentBytes> {
  const [first] = paths as readonly [string, ...string[]];
  if (paths.length === 1 && !(await isFolder(first))) return sentOf(basename(first), [await fileAt(first, '')]);
  const plates: string[] = [];
  for (const path of paths) plates.push(...((await isFolder(path)) ? await platesIn(path) : [requirePlate(path)]));
  const folder = paths.length === 1 ? first : dirname(first);
  const named = plates.map((path) => ({ path, name: relative(folder, path).split(sep).join('/') }));
  const strange = named.find(({ name }) => name.startsWith('../'));
  if (strange !== undefined) {
    throw new Refusal('unreadable', { file: strange.path, reason: 'plates that are sent together lie in one folder' });
  }
  named.sort((one, other) => (one.name < other.name ? -1 : 1));
  const files: (StoredFile & { readonly path: string })[] = [];
  for (const { path, name } of named) files.push(await fileAt(path, name));
  return sentOf(`${basename(folder)}.zip`, storedZip(files));
}

/** The plates in a folder and those in it. @throws {Refusal} unreadable: there is none */
async function platesIn(folder: string): Promise<readonly string[]> {
  const names = await readdir(folder, { recursive: true });
  const plates = names.filter((name) => PLATE.test(name) && !HIDDEN.test(name));
  if (plates.length > 0) return plates.map((name) => join(folder, name));
  throw new Refusal('unreadable', { file: folder, reason: 'there is no TIFF in this folder' });
}

function requirePlate(path: string): string {
  if (PLATE.test(path)) return path;
  throw new Refusal('unreadable', { file: path, reason: 'only plates, each a TIFF, are sent together' });
}

async function isFolder(path: string): Promise<boolean> {
  const found = await stat(path).catch(() => null);
  if (found === null) throw new Refusal('not-found', { what: path });
  return found.isDirectory();
}

async function fileAt(path: string, name: string): Promise<StoredFile & { readonly path: string }> {
  const found = await stat(path).catch(() => null);
  if (found?.isFile() !== true) throw new Refusal('not-found', { what: path });
  let checksum = 0;
  // a file that is sent alone has no checksum, and is read once less
  if (name !== '') for await (const piece of readOf(path, 0, found.size)) checksum = crc32(piece, checksum);
  return { path, name, bytes: found.size, crc32: checksum };
}

async function sentOf(name: string, pieces: readonly Piece[]): Promise<SentBytes> {
  const bytes = pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);
  return {
    name,
    bytes,
    sha256: await hashOf(pieces, bytes),
    slice: (start, end) => Readable.from(partOf(pieces, start, Math.min(end, bytes)), { objectMode: false }),
  };
}

async function hashOf(pieces: readonly Piece[], bytes: number): Promise<string> {
  const [first] = pieces;
  // a file alone is hashed while it is read on
  if (pieces.length === 1 && first !== undefined && 'path' in first) return (await fileIdentity(first.path)).sha256;
  const hash = createHash('sha256');
  for await (const part of partOf(pieces, 0, bytes)) hash.update(part);
  return hash.digest('hex');
}

async function* partOf(pieces: readonly Piece[], start: number, end: number): AsyncGenerator<Uint8Array> {
  let at = 0;
  for (const piece of pieces) {
    const [from, to] = [Math.max(start - at, 0), Math.min(end - at, lengthOf(piece))];
    at += lengthOf(piece);
    if (from >= to) continue;
    if ('path' in piece) yield* readOf(piece.path, from, to);
    else yield piece.subarray(from, to);
  }
}

async function* readOf(path: string, start: number, end: number): AsyncGenerator<Uint8Array> {
  if (start < end)
    yield* createReadStream(path, { start, end: end - 1, highWaterMark: READ_BYTES }) as AsyncIterable<Uint8Array>;
}

function lengthOf(piece: Piece): number {
  return 'path' in piece ? piece.bytes : piece.length;
}
