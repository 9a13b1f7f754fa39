import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { Refusal } from '../../../model/index.ts';
import { PACK_LIMITS, requireMembers } from '../../../evidence/index.ts';
import { hashOf, wholeOf, type PackOnDisk } from './pack-on-disk.ts';

/**
 * Opens a pack as the ZIP that it came in.
 *
 * @throws {Refusal} unreadable: it is no ZIP, or a damaged or encrypted one
 * @throws {Refusal} malformed: a name that no pack has, a link, or a ZIP that says two things of a member
 * @throws {Refusal} too-large: over a limit
 */
export async function openZip(path: string, limits = PACK_LIMITS): Promise<PackOnDisk> {
  const { listZip, memberPieces } = await import('../../../reading/index.ts');
  const { members, expansion, zipEdition } = limits;
  const listed = await listZip(path, {
    ...{ what: 'the pack', members, expansion, zipEdition },
    accept: (files) => requireMembers(files, limits),
  });
  const byName = new Map(listed.map((member) => [member.name, member]));
  const stream = (name: string): AsyncIterable<Uint8Array> => {
    const member = byName.get(name);
    if (member === undefined) throw new Refusal('not-found', { what: name });
    return memberPieces(path, member);
  };
  return {
    names: [...byName.keys()].sort(),
    hash: async (name) => hashOf(stream(name)),
    read: async (name) => wholeOf(name, stream(name), limits.readBytes),
    lend: async (name, use) => lent(name, stream(name), use),
    close: () => undefined,
  };
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
