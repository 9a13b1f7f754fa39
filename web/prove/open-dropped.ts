import { BlobReader, BlobWriter, configure, ZipReader, type FileEntry } from '@zip.js/zip.js';
import { PACK_LIMITS, requireAtMost, requireMembers, type OpenedPack } from '../../src/evidence/index.ts';
import { Refusal } from '../../src/model/index.ts';
import { sha256Hex } from '../../src/sealing/index.ts';

/** What a browser can hash at once: it has no way to hash piece by piece. */
const MOST_AT_ONCE = 1_500_000_000;

const LIMITS = { ...PACK_LIMITS, bytes: 64 * 2 ** 30 };

// Everything here, by the browser's own means; no worker made of a text, which the service's policy forbids.
configure({ useWebWorkers: false, useCompressionStream: true });

/**
 * Opens a pack that was dropped on the page. It is read where it lies, member by member, and nothing of it is sent. What
 * is dangerous or ambiguous is refused before anything is read, as `openZip` does for the command.
 *
 * @throws {Refusal} unreadable, malformed, too-large: no ZIP, a damaged one, or one that no pack is
 */
export async function openDropped(file: Blob): Promise<OpenedPack> {
  const entries = await entriesOf(file);
  for (const entry of entries) requirePlain(entry);
  requireMembers(
    entries.map(({ filename, uncompressedSize }) => ({ name: filename, bytes: uncompressedSize })),
    LIMITS,
  );
  const packed = entries.reduce((sum, { compressedSize }) => sum + compressedSize, 0);
  requireAtMost('all members in the ZIP', packed, file.size, 'bytes');
  const byName = new Map(entries.map((entry) => [entry.filename, entry]));
  const bytesOf = async (name: string, most: number): Promise<Uint8Array<ArrayBuffer>> => {
    const entry = byName.get(name);
    if (entry === undefined) throw new Refusal('not-found', { what: name });
    requireAtMost(name, entry.uncompressedSize, most, 'bytes');
    return unpacked(entry);
  };
  return {
    names: [...byName.keys()].sort(),
    hash: async (name) => sha256Hex(await bytesOf(name, MOST_AT_ONCE)),
    read: (name) => bytesOf(name, LIMITS.readBytes),
  };
}

async function entriesOf(file: Blob): Promise<readonly FileEntry[]> {
  try {
    const reader = new ZipReader(new BlobReader(file), { strictness: 'strict' });
    const entries = await reader.getEntries();
    return entries.filter((entry): entry is FileEntry => !entry.directory);
  } catch (cause) {
    throw unreadable('the pack', cause);
  }
}

function requirePlain({
  filename,
  encrypted,
  compressionMethod,
  compressedSize,
  uncompressedSize,
  ...entry
}: FileEntry) {
  const name = filename.slice(0, 80);
  if (encrypted || ![0, 8].includes(compressionMethod) || entry.version > LIMITS.zipEdition) {
    throw new Refusal('unreadable', { file: name, reason: 'it is encrypted, or packed in a way that is not known' });
  }
  if (entry.symlink === true) {
    throw new Refusal('malformed', { pointer: 'pack', expected: 'plain files', found: `${name}, a link` });
  }
  requireAtMost(`${name}, unpacked`, uncompressedSize, 1000 + compressedSize * LIMITS.expansion, 'bytes');
}

async function unpacked(entry: FileEntry): Promise<Uint8Array<ArrayBuffer>> {
  try {
    const options = { checkSignature: true, checkOverlappingEntry: true };
    const blob = await entry.getData(new BlobWriter(), options);
    return new Uint8Array(await blob.arrayBuffer());
  } catch (cause) {
    throw unreadable(entry.filename.slice(0, 80), cause);
  }
}

function unreadable(file: string, cause: unknown): Refusal {
  const reason = cause instanceof Error ? cause.message.slice(0, 200) : 'it is damaged';
  return new Refusal('unreadable', { file, reason }, cause);
}
