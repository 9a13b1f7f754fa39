import { createReadStream, createWriteStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { crc32, createInflateRaw } from 'node:zlib';
import yauzl from 'yauzl';
import type { Entry, ZipFile } from 'yauzl';
import { Refusal } from '../../../model/index.ts';
import { PACK_LIMITS, requireAtMost, requireMembers } from '../../../evidence/index.ts';
import { requireOneMeaning } from './one-meaning.ts';
import { hashOf, wholeOf, type PackOnDisk } from './pack-on-disk.ts';

/** S_IFMT and S_IFLNK of a mode, as ZIP programs of Unix keep it in the upper half of the attributes. */
const KIND = 0o170000;
const LINK = 0o120000;

/**
 * Opens a pack as the ZIP that it came in. What is dangerous to unpack is refused before anything is read: names that lead
 * elsewhere, one name twice, links, members that unfold to far more than they are or that share bytes with each other.
 *
 * @throws {Refusal} unreadable: it is no ZIP, or a damaged or encrypted one
 * @throws {Refusal} malformed: a name that no pack has, a link, or a ZIP that says two things of a member
 * @throws {Refusal} too-large: over a limit
 * @source common practice, no source: the ways to do harm with a ZIP that are known
 */
export async function openZip(path: string, limits = PACK_LIMITS): Promise<PackOnDisk> {
  const { size } = await stat(path);
  const zip = await opened(path);
  try {
    requireAtMost('members of a pack', zip.entryCount, limits.members, 'members');
    const entries = await entriesOf(zip, limits.members);
    for (const entry of entries.values()) requirePlain(entry, limits.expansion);
    const files = [...entries.values()].filter(({ fileName }) => !fileName.endsWith('/'));
    requireMembers(
      files.map(({ fileName, uncompressedSize }) => ({ name: fileName, bytes: uncompressedSize })),
      limits,
    );
    // Members that share bytes are the way to hide a great deal in a small file.
    const packed = files.reduce((sum, { compressedSize }) => sum + compressedSize, 0);
    requireAtMost('all members in the ZIP', packed, size, 'bytes');
    await requireOneMeaning({ path, size, zip }, files);
    const stream = (name: string): AsyncIterable<Uint8Array> => piecesOf({ path, zip, entries }, name);
    return {
      names: files.map(({ fileName }) => fileName).sort(),
      hash: (name) => hashOf(stream(name)),
      read: (name) => wholeOf(name, stream(name), limits.readBytes),
      lend: (name, use) => lent(name, stream(name), use),
      close: () => zip.close(),
    };
  } catch (error) {
    zip.close();
    throw unreadable(error);
  }
}

async function opened(path: string): Promise<ZipFile> {
  try {
    return await new Promise<ZipFile>((resolve, reject) => {
      const options = { lazyEntries: true, autoClose: false, strictFileNames: true };
      yauzl.open(path, options, (error, zip) => (error === null ? resolve(zip) : reject(error)));
    });
  } catch (cause) {
    throw unreadable(cause);
  }
}

async function entriesOf(zip: ZipFile, most: number): Promise<ReadonlyMap<string, Entry>> {
  const entries = new Map<string, Entry>();
  await new Promise<void>((resolve, reject) => {
    zip.on('error', (cause: Error) => reject(unreadable(cause)));
    zip.on('end', resolve);
    zip.on('entry', (entry: Entry) => {
      if (entries.has(entry.fileName)) {
        const found = `${entry.fileName.slice(0, 80)} twice`;
        reject(new Refusal('malformed', { pointer: 'pack', expected: 'each name once', found }));
        return;
      }
      entries.set(entry.fileName, entry);
      if (entries.size <= most) zip.readEntry();
      else reject(new Refusal('too-large', { what: 'a pack', limit: most, found: entries.size, unit: 'members' }));
    });
    zip.readEntry();
  });
  return entries;
}

function requirePlain(entry: Entry, expansion: number): void {
  const name = entry.fileName.slice(0, 80);
  if (entry.isEncrypted() || ![0, 8].includes(entry.compressionMethod)) {
    throw new Refusal('unreadable', { file: name, reason: 'it is encrypted, or packed in a way that is not known' });
  }
  if (((entry.externalFileAttributes >>> 16) & KIND) === LINK) {
    throw new Refusal('malformed', { pointer: 'pack', expected: 'plain files', found: `${name}, a link` });
  }
  const most = 1000 + entry.compressedSize * expansion;
  requireAtMost(`${name}, unpacked`, entry.uncompressedSize, most, 'bytes');
}

/** The library only finds the bytes: its own streams do not end in every edition of Node. */
async function* piecesOf(source: Source, name: string): AsyncIterable<Uint8Array> {
  const entry = source.entries.get(name);
  if (entry === undefined) throw new Refusal('not-found', { what: name });
  const { compressedSize, uncompressedSize, compressionMethod } = entry;
  const start = await startOf(source.zip, entry);
  let bytes = 0;
  let checksum = 0;
  try {
    if (compressedSize === 0) return;
    const packed = createReadStream(source.path, { start, end: start + compressedSize - 1 });
    for await (const piece of compressionMethod === 8 ? inflated(packed) : packed) {
      bytes += (piece as Uint8Array).length;
      if (bytes > uncompressedSize) break;
      checksum = crc32(piece as Uint8Array, checksum);
      yield piece as Uint8Array;
    }
  } catch (cause) {
    throw unreadable(cause, name);
  }
  if (bytes !== uncompressedSize) {
    throw new Refusal('unreadable', {
      file: name,
      reason: `it has not the ${uncompressedSize} bytes that the ZIP says`,
    });
  }
  // What every program that unpacks would complain of must not pass here.
  if (checksum !== entry.crc32) {
    throw new Refusal('unreadable', { file: name, reason: 'its bytes are not those that the ZIP has the checksum of' });
  }
}

function inflated(packed: Readable): Readable {
  const unpacked = createInflateRaw();
  packed.on('error', (error) => unpacked.destroy(error)).pipe(unpacked);
  return unpacked.on('close', () => packed.destroy());
}

function startOf(zip: ZipFile, entry: Entry): Promise<number> {
  return new Promise((resolve, reject) => {
    zip.readLocalFileHeader(entry, { minimal: true }, (error, header) =>
      error === null ? resolve(header.fileDataStart) : reject(unreadable(error, entry.fileName)),
    );
  });
}

/** An open ZIP, by its path and by its directory. */
interface Source {
  readonly path: string;
  readonly zip: ZipFile;
  readonly entries: ReadonlyMap<string, Entry>;
}

async function lent<T>(name: string, stream: AsyncIterable<Uint8Array>, use: (path: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'witnessleaf-pack-'));
  try {
    const path = join(folder, name.split('/').at(-1) ?? 'member');
    await pipeline(Readable.from(stream, { objectMode: false }), createWriteStream(path));
    return await use(path);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** The library throws errors of its own for whatever it cannot read. */
function unreadable(cause: unknown, file = 'the pack'): Refusal {
  if (cause instanceof Refusal) return cause as Refusal;
  const reason = cause instanceof Error ? cause.message.slice(0, 200) : 'it is damaged';
  return new Refusal('unreadable', { file, reason }, cause);
}
