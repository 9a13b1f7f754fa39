import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { basename } from 'node:path';
import type { Limits } from '../../../model/index.ts';
import { memberPieces } from '../../../reading/index.ts';
import type { PlatesForm } from './plates-form.ts';
import { listPlates } from './unpack.ts';

/**
 * SHA-256 of each plate in a file of plates, in the order of their names.
 *
 * @throws {Refusal} unreadable, malformed, too-large: as `listPlates`, or a plate in the ZIP is damaged
 */
export async function plateHashes(
  path: string,
  form: Exclude<PlatesForm, 'neither'>,
  limits: Limits,
): Promise<readonly string[]> {
  if (form === 'tiff') return [await hashOf(createReadStream(path))];
  const hashes: string[] = [];
  for (const member of await listPlates({ path, name: basename(path), limits })) {
    hashes.push(await hashOf(memberPieces(path, member)));
  }
  return hashes;
}

async function hashOf(pieces: AsyncIterable<Uint8Array>): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of pieces) hash.update(piece);
  return hash.digest('hex');
}
