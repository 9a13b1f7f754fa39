import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { crc32, createInflateRaw } from 'node:zlib';
import yauzl from 'yauzl';
import type { Entry, ZipFile } from 'yauzl';
import { Refusal } from '../../model/index.ts';
import { requireOneMeaning } from './one-meaning.ts';

/** A file in a ZIP, and where its bytes lie. */
export interface ZipMember {
  readonly name: string;
  readonly bytes: number;
  readonly packedBytes: number;
  /** Where they begin in the ZIP. */
  readonly start: number;
  readonly isDeflated: boolean;
  readonly crc32: number;
}

/** What a ZIP from a stranger may ask of the machine. */
export interface ZipRules {
  /** What refusals call it. */
  readonly what: string;
  readonly members: number;
  /** Bytes of a member over the bytes that it has in the ZIP. */
  readonly expansion: number;
  /** Tenths of the edition of the format that a member may need. */
  readonly zipEdition: number;
  /** Throws where names or sizes are not such as are taken; asked before any header of a member is read. */
  readonly accept: (this: void, members: readonly { readonly name: string; readonly bytes: number }[]) => void;
}

/** S_IFMT and S_IFLNK of a mode, as ZIP programs of Unix keep it in the upper half of the attributes. */
const KIND = 0o170000;
const LINK = 0o120000;
/** Ways of packing. @source PKWARE, APPNOTE 6.3.10 (2022), 4.4.5 */
const STORED = 0;
const DEFLATED = 8;
/** A member so small may unfold to anything: its first bytes say little of the rest. */
const SMALL_BYTES = 1000;

/**
 * Lists the files of a ZIP. What is dangerous to unpack is refused before anything is: names that lead elsewhere, one name
 * twice, links, members that unfold to far more than they are or that share bytes with each other.
 *
 * @throws {Refusal} unreadable: it is no ZIP, or a damaged or encrypted one
 * @throws {Refusal} malformed: a link, a name twice, or a ZIP that says two things of a member
 * @throws {Refusal} too-large: over a limit
 * @throws {Refusal} as `requireOneMeaning`, and whatever `rules.accept` throws
 * @source common practice, no source: the ways to do harm with a ZIP that are known
 */
export async function listZip(path: string, rules: ZipRules): Promise<readonly ZipMember[]> {
  const { size } = await stat(path);
  const zip = await opened(path, rules.what);
  try {
    if (zip.entryCount > rules.members) throw tooMany(rules, zip.entryCount);
    const entries = await entriesOf(zip, rules);
    for (const entry of entries) requirePlain(entry, rules);
    const files = entries.filter(({ fileName }) => !fileName.endsWith('/'));
    rules.accept(files.map(({ fileName, uncompressedSize }) => ({ name: fileName, bytes: uncompressedSize })));
    // Members that share bytes are the way to hide a great deal in a small file.
    const packed = files.reduce((sum, { compressedSize }) => sum + compressedSize, 0);
    if (packed > size) {
      throw new Refusal('too-large', { what: 'all members in the ZIP', limit: size, found: packed, unit: 'bytes' });
    }
    const starts = await requireOneMeaning({ path, size, zip }, files, rules);
    return files.map((entry, index) => ({
      name: entry.fileName,
      bytes: entry.uncompressedSize,
      packedBytes: entry.compressedSize,
      start: starts[index]!,
      isDeflated: entry.compressionMethod === DEFLATED,
      crc32: entry.crc32,
    }));
  } catch (error) {
    throw unreadable(error, rules.what);
  } finally {
    zip.close();
  }
}

async function opened(path: string, what: string): Promise<ZipFile> {
  try {
    return await new Promise<ZipFile>((resolve, reject) => {
      const options = { lazyEntries: true, autoClose: false, strictFileNames: true };
      yauzl.open(path, options, (error, zip) => (error === null ? resolve(zip) : reject(error)));
    });
  } catch (cause) {
    throw unreadable(cause, what);
  }
}

async function entriesOf(zip: ZipFile, rules: ZipRules): Promise<readonly Entry[]> {
  const entries = new Map<string, Entry>();
  await new Promise<void>((resolve, reject) => {
    zip.on('error', (cause: Error) => reject(unreadable(cause, rules.what)));
    zip.on('end', resolve);
    zip.on('entry', (entry: Entry) => {
      if (entries.has(entry.fileName)) {
        const found = `${entry.fileName.slice(0, 80)} twice`;
        reject(new Refusal('malformed', { pointer: rules.what, expected: 'each name once', found }));
        return;
      }
      entries.set(entry.fileName, entry);
      if (entries.size <= rules.members) zip.readEntry();
      else reject(tooMany(rules, entries.size));
    });
    zip.readEntry();
  });
  return [...entries.values()];
}

function requirePlain(entry: Entry, { what, expansion }: ZipRules): void {
  const name = entry.fileName.slice(0, 80);
  if (entry.isEncrypted() || ![STORED, DEFLATED].includes(entry.compressionMethod)) {
    throw new Refusal('unreadable', { file: name, reason: 'it is encrypted, or packed in a way that is not known' });
  }
  if (((entry.externalFileAttributes >>> 16) & KIND) === LINK) {
    throw new Refusal('malformed', { pointer: what, expected: 'plain files', found: `${name}, a link` });
  }
  const limit = SMALL_BYTES + entry.compressedSize * expansion;
  if (entry.uncompressedSize > limit) {
    throw new Refusal('too-large', { what: `${name}, unpacked`, limit, found: entry.uncompressedSize, unit: 'bytes' });
  }
}

/**
 * The bytes of a member, piece by piece.
 *
 * @throws {Refusal} unreadable: they are damaged, or not as many as the ZIP says
 */
export async function* memberPieces(path: string, member: ZipMember): AsyncGenerator<Uint8Array> {
  const { name, bytes: expected, packedBytes, start, isDeflated } = member;
  let bytes = 0;
  let checksum = 0;
  try {
    if (packedBytes === 0) return;
    const packed = createReadStream(path, { start, end: start + packedBytes - 1 });
    for await (const piece of isDeflated ? inflated(packed) : packed) {
      bytes += (piece as Uint8Array).length;
      if (bytes > expected) break;
      checksum = crc32(piece as Uint8Array, checksum);
      yield piece as Uint8Array;
    }
  } catch (cause) {
    throw unreadable(cause, name);
  }
  if (bytes !== expected) {
    throw new Refusal('unreadable', { file: name, reason: `it has not the ${expected} bytes that the ZIP says` });
  }
  // What every program that unpacks would complain of must not pass here.
  if (checksum !== member.crc32) {
    throw new Refusal('unreadable', { file: name, reason: 'its bytes are not those that the ZIP has the checksum of' });
  }
}

/** The library only finds the bytes: its own streams do not end in every edition of Node. */
function inflated(packed: Readable): Readable {
  const unpacked = createInflateRaw();
  packed.on('error', (error) => unpacked.destroy(error)).pipe(unpacked);
  return unpacked.on('close', () => packed.destroy());
}

function tooMany({ what, members }: ZipRules, found: number): Refusal {
  return new Refusal('too-large', { what: `members of ${what}`, limit: members, found, unit: 'members' });
}

/** The library throws errors of its own for whatever it cannot read. */
function unreadable(cause: unknown, what: string): Refusal {
  if (cause instanceof Refusal) return cause as Refusal;
  const reason = cause instanceof Error ? cause.message.slice(0, 200) : 'it is damaged';
  return new Refusal('unreadable', { file: what, reason }, cause);
}
