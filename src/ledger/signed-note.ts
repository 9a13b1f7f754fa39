import { Refusal } from '../model/index.ts';
import { formatBase64, parseBase64 } from './base64.ts';
import { signEd25519, verifyEd25519 } from './ed25519.ts';
import { hexOf, requireKeyName, type NoteSigner, type NoteVerifier } from './note-key.ts';

/** One signature line. */
export interface NoteSignature {
  readonly name: string;
  /** Eight hexadecimal digits. */
  readonly keyId: string;
  readonly signature: Uint8Array;
}

/** A text and who signed it. Until `verifyNote` has answered it is only a claim. */
export interface SignedNote {
  /** With its final line end: these are the bytes that were signed. */
  readonly text: string;
  readonly signatures: readonly NoteSignature[];
}

/** What came of checking a note's signatures: by which of the known keys it is signed, or why it is not. */
export type NoteAnswer =
  | { readonly holds: true; readonly by: readonly NoteVerifier[] }
  | { readonly holds: false; readonly reason: 'no-known-key' }
  | { readonly holds: false; readonly reason: 'bad-signature'; readonly by: NoteVerifier };

/** More lines than any log and its witnesses would sign; at least 16 must be read. */
const MOST_SIGNATURES = 100;

/**
 * Signs a text.
 *
 * @param text  ends with a line end
 * @throws {Refusal} malformed: a text that a note cannot hold
 * @throws {Refusal} as `signEd25519`
 * @source C2SP signed-note (as of 2025); values in test/standards/ledger
 */
export async function signNote(text: string, { verifier, privateKey }: NoteSigner): Promise<SignedNote> {
  requireText(text);
  const { name, keyId } = verifier;
  return { text, signatures: [{ name, keyId, signature: await signEd25519(privateKey, text) }] };
}

/**
 * A note as it travels.
 *
 * @source as signNote
 */
export function formatNote({ text, signatures }: SignedNote): string {
  const lines = signatures.map(({ name, keyId, signature }) => {
    const number = Array.from({ length: 4 }, (_, index) => parseInt(keyId.slice(2 * index, 2 * index + 2), 16));
    return `\u2014 ${name} ${formatBase64(Uint8Array.of(...number, ...signature))}\n`;
  });
  return `${text}\n${lines.join('')}`;
}

/**
 * Reads a note; says nothing of its signatures yet.
 *
 * @throws {Refusal} malformed: not UTF-8, control characters, no signature line, a line that is none
 * @throws {Refusal} too-large: more than 100 signatures
 * @source C2SP signed-note (as of 2025), "Format"; values in test/standards/ledger
 */
export function parseNote(note: string | Uint8Array): SignedNote {
  const whole = typeof note === 'string' ? note : decoded(note);
  // The last empty line divides: the text may have empty lines too.
  const end = whole.lastIndexOf('\n\n') + 1;
  if (end === 0 || !whole.endsWith('\n')) refuse('a text, an empty line and signature lines', 'something else');
  const text = whole.slice(0, end);
  requireText(text);
  const lines = whole
    .slice(end + 1)
    .split('\n')
    .slice(0, -1);
  if (lines.length === 0) refuse('a signature line', 'none');
  if (lines.length > MOST_SIGNATURES) {
    throw new Refusal('too-large', { what: 'a note', limit: MOST_SIGNATURES, found: lines.length, unit: 'signatures' });
  }
  return { text, signatures: lines.map(parseSignature) };
}

/**
 * Whether a note is signed by one of the known keys. Signatures by others tell nothing and are passed over; one that
 * bears a known key's name and number and does not hold spoils the note, whatever the others say.
 *
 * @throws {Refusal} as `verifyEd25519`
 * @source C2SP signed-note (as of 2025), "Signatures"
 */
export async function verifyNote(
  { text, signatures }: SignedNote,
  known: readonly NoteVerifier[],
): Promise<NoteAnswer> {
  const by = new Set<NoteVerifier>();
  for (const { name, keyId, signature } of signatures) {
    const verifier = known.find((one) => one.name === name && one.keyId === keyId);
    if (verifier === undefined) continue;
    const holds = await verifyEd25519({ publicKey: verifier.publicKey, text, signature });
    if (!holds) return { holds: false, reason: 'bad-signature', by: verifier };
    by.add(verifier);
  }
  return by.size > 0 ? { holds: true, by: [...by] } : { holds: false, reason: 'no-known-key' };
}

function parseSignature(line: string): NoteSignature {
  const [dash, name, coded, ...rest] = line.split(' ');
  if (dash !== '\u2014' || name === undefined || coded === undefined || rest.length > 0) {
    return refuse('a signature line', line.slice(0, 80));
  }
  requireKeyName(name);
  const blob = parseBase64(coded, 'signature');
  if (blob.length < 5) refuse('a key number of 4 bytes and a signature', `${blob.length} bytes`);
  return { name, keyId: hexOf(blob.subarray(0, 4)), signature: blob.subarray(4) };
}

function requireText(text: string): void {
  const control = /[\x00-\x09\x0b-\x1f]/.test(text);
  if (control || !text.isWellFormed()) refuse('text without control characters', 'one with them');
  if (!text.endsWith('\n')) refuse('a text that ends with a line end', 'none at its end');
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (cause) {
    throw new Refusal('malformed', { pointer: 'note', expected: 'UTF-8', found: 'other bytes' }, cause);
  }
}

function refuse(expected: string, found: string): never {
  throw new Refusal('malformed', { pointer: 'note', expected, found });
}
