import { createPrivateKey, generateKeyPairSync } from 'node:crypto';
import { link, mkdir, open, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../../model/index.ts';
import { newId } from '../catalogue/new-id.ts';
import { syncFolder } from '../sync-folder.ts';

/** The archive's own secrets, as their file holds them. */
export interface ArchiveKeys {
  /** The log's name. */
  readonly origin: string;
  /** Ed25519, PKCS#8 in DER: signs the heads of the log. */
  readonly noteKey: Uint8Array<ArrayBuffer>;
  /** ECDSA P-256, PKCS#8 in DER: seals PDF files. */
  readonly sealKey: Uint8Array<ArrayBuffer>;
  /** For the sealing key, DER. */
  readonly sealCertificate: Uint8Array<ArrayBuffer>;
}

const FORMAT = 'witnessleaf-archive-keys/1';
const NAME = 'archive-keys.json';

/** A new Ed25519 key, PKCS#8 in DER. */
export function newNoteKey(): Uint8Array<ArrayBuffer> {
  return new Uint8Array(generateKeyPairSync('ed25519').privateKey.export({ format: 'der', type: 'pkcs8' }));
}

/**
 * Reads the keys of an archive.
 *
 * @returns null where there is no such file
 * @throws {Refusal} unreadable: the file is damaged
 */
export async function readArchiveKeys(folder: string): Promise<ArchiveKeys | null> {
  let text: string;
  try {
    text = await readFile(join(folder, NAME), 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
  try {
    const { format, origin, noteKey, sealKey, sealCertificate } = JSON.parse(text) as Record<string, string>;
    if (format !== FORMAT || origin === undefined) throw new TypeError('another format');
    const keys = {
      origin,
      noteKey: bytesOf(noteKey),
      sealKey: bytesOf(sealKey),
      sealCertificate: bytesOf(sealCertificate),
    };
    for (const key of [keys.noteKey, keys.sealKey]) {
      createPrivateKey({ key: Buffer.from(key), format: 'der', type: 'pkcs8' });
    }
    return keys;
  } catch (cause) {
    throw new Refusal('unreadable', { file: 'the keys of the archive', reason: 'they cannot be read' }, cause);
  }
}

/**
 * Writes the keys of a new archive, for their owner's eyes only, in full or not at all: passing name, write, `fsync`,
 * link, `fsync` of the folder. Where another process was quicker, its keys stay.
 *
 * @returns the keys that are there now
 */
export async function keepArchiveKeys(folder: string, keys: ArchiveKeys): Promise<ArchiveKeys> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const { origin, noteKey, sealKey, sealCertificate } = keys;
  const written = { format: FORMAT, origin };
  const secrets = Object.entries({ noteKey, sealKey, sealCertificate }).map(([name, bytes]) => [name, base64(bytes)]);
  const passing = join(folder, `${newId()}.passing`);
  const handle = await open(passing, 'wx', 0o600);
  try {
    await handle.writeFile(`${JSON.stringify({ ...written, ...Object.fromEntries(secrets) }, null, 2)}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  try {
    await link(passing, join(folder, NAME));
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
  } finally {
    await rm(passing);
  }
  await syncFolder(folder);
  return (await readArchiveKeys(folder)) ?? keys;
}

function base64(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('base64');
}

function bytesOf(text: string | undefined): Uint8Array<ArrayBuffer> {
  if (text === undefined) throw new TypeError('a key is missing');
  return new Uint8Array(Buffer.from(text, 'base64'));
}
