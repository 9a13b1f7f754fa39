import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Refusal } from '../../model/index.ts';
import { openKeyFile, type OpenedKey } from '../../sealing/index.ts';
import type { ClientTools, Given } from './client-command.ts';
import { passphraseFor } from './passphrase.ts';

/**
 * Opens the key file that was named, with its passphrase.
 *
 * @throws {Refusal} not-found: there is no such file
 * @throws {Refusal} as `openKeyFile` and `passphraseFor`
 */
export async function openNamedKey(path: string, given: Given, tools: ClientTools): Promise<OpenedKey> {
  const whole = resolve(tools.desk.folder, path);
  const bytes = await readFile(whole).catch(() => {
    throw new Refusal('not-found', { what: whole });
  });
  return openKeyFile(bytes, await passphraseFor(given, tools));
}
