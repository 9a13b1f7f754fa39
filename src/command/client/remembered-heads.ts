import { createHash } from 'node:crypto';
import { mkdir, open, readFile, rename } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Refusal } from '../../model/index.ts';
import type { KeptHead } from '../../ledger/index.ts';
import { stateFolder } from './state-folder.ts';

/** Where the heads that were seen are kept. */
export function headsFolder(env: Readonly<Record<string, string | undefined>>): string {
  return join(stateFolder(env), 'heads');
}

/**
 * What is remembered of the archive at an address; null where it was never met.
 *
 * @throws {Refusal} unreadable: the memory is damaged: better known than silently begun anew
 */
export async function rememberedHead(folder: string, url: string): Promise<KeptHead | null> {
  const path = pathOf(folder, url);
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  });
  if (text === null) return null;
  const [address, verifierKey, ...note] = text.split('\n');
  if (address === url && verifierKey !== undefined && note.length > 3) return { verifierKey, note: note.join('\n') };
  throw new Refusal('unreadable', { file: path, reason: 'not a remembered head' });
}

/** Remembers a head, whole or not at all: the address, the archive's key and the signed head, one after the other. */
export async function rememberHead(folder: string, url: string, head: KeptHead): Promise<void> {
  const path = pathOf(folder, url);
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  const fresh = `${path}.${process.pid}`;
  const file = await open(fresh, 'w', 0o600);
  try {
    await file.writeFile(`${url}\n${head.verifierKey}\n${head.note}`);
    await file.sync();
  } finally {
    await file.close();
  }
  await rename(fresh, path);
}

/** One file an address, under a name that any file system takes. */
function pathOf(folder: string, url: string): string {
  const readable = new URL(url).host.replace(/[^a-z0-9.-]/g, '-');
  return join(folder, `${readable}-${createHash('sha256').update(url).digest('hex').slice(0, 12)}.head`);
}
