import { createReadStream } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../../../model/index.ts';
import { PACK_LIMITS, requireAtMost, requireMembers, type ListedMember } from '../../../evidence/index.ts';
import { hashOf, wholeOf, type PackOnDisk } from './pack-on-disk.ts';

/**
 * Opens a pack that was unpacked into a folder.
 *
 * @throws {Refusal} malformed: a name that no pack has, or something that is no plain file
 * @throws {Refusal} too-large: over a limit
 */
export async function openFolder(folder: string, limits = PACK_LIMITS): Promise<PackOnDisk> {
  const members: ListedMember[] = [];
  const walk = async (under: string): Promise<void> => {
    for (const entry of await readdir(join(folder, under), { withFileTypes: true })) {
      const name = `${under}${entry.name}`;
      requireAtMost('members of a pack', members.length, limits.members, 'members');
      if (entry.isDirectory()) await walk(`${name}/`);
      else if (entry.isFile()) members.push({ name, bytes: (await lstat(join(folder, name))).size });
      else throw new Refusal('malformed', { pointer: 'pack', expected: 'plain files', found: name.slice(0, 80) });
    }
  };
  await walk('');
  requireMembers(members, limits);
  const path = (name: string): string => {
    if (!members.some((one) => one.name === name)) throw new Refusal('not-found', { what: name });
    return join(folder, name);
  };
  const stream = (name: string): AsyncIterable<Uint8Array> => createReadStream(path(name));
  return {
    names: members.map(({ name }) => name).sort(),
    hash: (name) => hashOf(stream(name)),
    read: (name) => wholeOf(name, stream(name), limits.readBytes),
    lend: (name, use) => use(path(name)),
    close: () => undefined,
  };
}
