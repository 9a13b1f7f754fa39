import { Refusal } from '../../model/index.ts';
import { keepArchiveKeys, readArchiveKeys } from '../identity/key-file.ts';

/**
 * Copies the secrets of an archive, for their owner's eyes only. Keys that the copy has stay.
 *
 * @throws {Refusal} unavailable: there are none, or the copy has others
 * @throws {Refusal} as `readArchiveKeys`
 */
export async function copyKeys(from: string, to: string): Promise<void> {
  const keys = await readArchiveKeys(from);
  if (keys === null) refuse('they are not in its folder, and without them no copy of it goes on with its log');
  const kept = await keepArchiveKeys(to, keys);
  if (!Buffer.from(kept.noteKey).equals(keys.noteKey)) refuse('the copy has those of another archive');
}

function refuse(reason: string): never {
  throw new Refusal('unavailable', { what: 'the keys of the archive', reason });
}
