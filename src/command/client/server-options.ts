import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Refusal } from '../../model/index.ts';
import type { ClientOption, ClientTools, Given } from './client-command.ts';

/** Where the archive is, and as whom to ask. A token is never an argument: others on the machine can see those. */
export const SERVER_OPTIONS: Readonly<Record<string, ClientOption>> = {
  server: { takes: 'URL', says: 'address of the archive; without it WITNESSLEAF_SERVER is taken' },
  'token-file': { takes: 'FILE', says: 'your token is the first line of FILE; without it WITNESSLEAF_TOKEN is taken' },
};

/** An archive that is reached over the network, and the token it knows somebody by. */
export interface Server {
  /** Without a slash at its end. */
  readonly url: string;
  readonly token: string;
}

/**
 * The server that was named, here or in the surroundings.
 *
 * @throws {Refusal} malformed: none is named, the address is none, or no token is given; not-found: the token's file
 */
export async function serverOf(given: Given, { desk, env }: ClientTools): Promise<Server> {
  const named = given.text('server') ?? env.WITNESSLEAF_SERVER ?? '';
  if (!URL.canParse(named) || !/^https?:$/.test(new URL(named).protocol)) {
    throw unfit('--server', 'an address such as https://proofs.example', named === '' ? 'none' : named);
  }
  const path = given.text('token-file');
  const token = path === null ? (env.WITNESSLEAF_TOKEN ?? '') : await tokenIn(resolve(desk.folder, path));
  if (token === '') throw unfit('--token-file', 'a file, or WITNESSLEAF_TOKEN', 'neither');
  return { url: named.replace(/\/+$/, ''), token };
}

async function tokenIn(path: string): Promise<string> {
  const text = await readFile(path, 'utf8').catch(() => {
    throw new Refusal('not-found', { what: path });
  });
  return text.split(/\r?\n/)[0]?.trim() ?? '';
}

function unfit(pointer: string, expected: string, found: string): Refusal {
  return new Refusal('malformed', { pointer, expected, found });
}
