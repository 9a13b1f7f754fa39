import { Refusal, sha256 } from '../model/index.ts';
import { formatBase64, parseBase64 } from './base64.ts';
import { rawPublicKey } from './ed25519.ts';

/** Who may have signed a note, and how to check that they did. Name and number together name the key. */
export interface NoteVerifier {
  /** For a log, the archive's name, which is also its checkpoints' origin: no space, no plus. */
  readonly name: string;
  /** Eight hexadecimal digits, a label and no proof. */
  readonly keyId: string;
  /** Ed25519, 32 bytes. */
  readonly publicKey: Uint8Array;
}

/** Who signs a note. */
export interface NoteSigner {
  readonly verifier: NoteVerifier;
  readonly privateKey: CryptoKey;
}

/** The type byte of Ed25519 in key numbers and key lines. C2SP signed-note, "Signature types". */
const ED25519 = 1;

/**
 * The verifier for a name and a key.
 *
 * @param publicKey  Ed25519, 32 bytes
 * @throws {Refusal} malformed: a name with a space or a plus, or none; a key of another length
 * @source C2SP signed-note (as of 2025), "Signatures" and "Ed25519 signatures"; values in test/standards/ledger
 */
export function noteVerifier(name: string, publicKey: Uint8Array): NoteVerifier {
  requireKeyName(name);
  if (publicKey.length !== 32) refuse('key', '32 bytes of an Ed25519 key', `${publicKey.length} bytes`);
  const label = new TextEncoder().encode(`${name}\n`);
  const hashed = Uint8Array.of(...label, ED25519, ...publicKey);
  return { name, keyId: hexOf(sha256(hashed).subarray(0, 4)), publicKey };
}

/**
 * The signer for a name and a pair of keys of WebCrypto.
 *
 * @throws {Refusal} as `noteVerifier`
 */
export async function noteSigner(name: string, keys: CryptoKeyPair): Promise<NoteSigner> {
  return { verifier: noteVerifier(name, await rawPublicKey(keys.publicKey)), privateKey: keys.privateKey };
}

/**
 * A verifier in one line, as it is handed from hand to hand: name+number+key.
 *
 * @source C2SP signed-note (as of 2025), "Verifier keys"; values in test/standards/ledger
 */
export function formatVerifierKey({ name, keyId, publicKey }: NoteVerifier): string {
  return `${name}+${keyId}+${formatBase64(Uint8Array.of(ED25519, ...publicKey))}`;
}

/**
 * Reads a verifier's line.
 *
 * @throws {Refusal} malformed: not such a line, another kind of key, or a number that does not belong to name and key
 * @source as formatVerifierKey
 */
export function parseVerifierKey(line: string): NoteVerifier {
  const parts = line.split('+');
  const [name, keyId] = parts;
  // Base64 has pluses of its own.
  const key = parseBase64(parts.slice(2).join('+'), 'key');
  if (key[0] !== ED25519) refuse('key', 'an Ed25519 key (type 1)', key.length === 0 ? 'none' : `type ${key[0]}`);
  const verifier = noteVerifier(name!, key.subarray(1));
  if (verifier.keyId !== keyId) refuse('key', `the number ${verifier.keyId} for this name and key`, `${keyId}`);
  return verifier;
}

/**
 * Requires a name that a signature line can carry.
 *
 * @throws {Refusal} malformed: empty, with a space or a plus, or with control characters
 * @source C2SP signed-note (as of 2025), "Format"
 */
export function requireKeyName(name: string): void {
  if (name === '' || /[\p{White_Space}\p{Cc}+]/u.test(name) || !name.isWellFormed()) {
    refuse('name', 'a name without spaces and pluses', name === '' ? 'none' : name);
  }
}

/** Lower-case hexadecimal digits, two a byte. */
export function hexOf(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

function refuse(pointer: string, expected: string, found: string): never {
  throw new Refusal('malformed', { pointer, expected, found });
}
