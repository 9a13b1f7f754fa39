import { Refusal } from '../model/index.ts';
import { formatBase64, parseBase64 } from './base64.ts';
import { requireKeyName, type NoteSigner, type NoteVerifier } from './note-key.ts';
import { formatNote, parseNote, signNote, verifyNote, type NoteAnswer } from './signed-note.ts';
import { HASH_BYTES } from './tree-hash.ts';

/** A log's head: how many entries it has, and the root over them. */
export interface Checkpoint {
  /** The archive's name; also the name of the key that signs. */
  readonly origin: string;
  readonly size: number;
  readonly root: Uint8Array;
}

/** What came of opening a signed checkpoint: the head, or why it must not be believed. */
export type OpenedCheckpoint =
  { readonly holds: true; readonly checkpoint: Checkpoint } | Exclude<NoteAnswer, { holds: true }> | AnotherOrigin;

interface AnotherOrigin {
  readonly holds: false;
  readonly reason: 'another-origin';
  readonly origin: string;
}

/**
 * A checkpoint's text, which is what gets signed.
 *
 * @throws {Refusal} malformed: an origin with a space or a plus, a size that is no number of entries, a root that is
 *   no hash
 * @source C2SP tlog-checkpoint (as of 2025), "Note text"; values in test/standards/ledger
 */
export function formatCheckpoint({ origin, size, root }: Checkpoint): string {
  requireKeyName(origin);
  if (!Number.isSafeInteger(size) || size < 0) refuse('size', 'a number of entries', `${size}`);
  if (root.length !== HASH_BYTES) refuse('root', '32 bytes of a hash', `${root.length} bytes`);
  return `${origin}\n${size}\n${formatBase64(root)}\n`;
}

/**
 * Reads a checkpoint's text. Lines after the third are refused: they would be signed, but nothing in the log's tree
 * vouches for them.
 *
 * @throws {Refusal} malformed: not three such lines, or not in the one form that `formatCheckpoint` gives
 * @source as formatCheckpoint
 */
export function parseCheckpoint(text: string): Checkpoint {
  const [origin, size, root, ...rest] = text.split('\n');
  if (root === undefined || rest.join() !== '' || rest.length !== 1) {
    return refuse('lines', 'origin, size and root', `${text.split('\n').length - 1} lines`);
  }
  const checkpoint = { origin: origin!, size: Number(size), root: parseBase64(root, 'root') };
  if (formatCheckpoint(checkpoint) !== text) refuse('size', 'a number in its shortest form', `${size}`);
  return checkpoint;
}

/**
 * Signs a checkpoint with the archive's key. Whoever calls it answers for the promise that goes with it: never two
 * checkpoints of which neither is the beginning of the other.
 *
 * @returns the signed note, as it is published
 * @throws {Refusal} malformed: the signer's name is not the origin
 * @throws {Refusal} as `formatCheckpoint`
 * @throws {Refusal} as `signNote`
 * @source C2SP tlog-checkpoint (as of 2025), "Signatures"
 */
export async function signCheckpoint(checkpoint: Checkpoint, signer: NoteSigner): Promise<string> {
  const text = formatCheckpoint(checkpoint);
  if (signer.verifier.name !== checkpoint.origin) refuse('origin', signer.verifier.name, checkpoint.origin);
  return formatNote(await signNote(text, signer));
}

/**
 * Opens a published checkpoint: the archive's own signature must hold; others, of witnesses, are passed over.
 *
 * @throws {Refusal} as `parseNote`
 * @throws {Refusal} as `parseCheckpoint`
 * @source C2SP tlog-checkpoint (as of 2025)
 */
export async function openCheckpoint(note: string | Uint8Array, archive: NoteVerifier): Promise<OpenedCheckpoint> {
  const signed = parseNote(note);
  const answer = await verifyNote(signed, [archive]);
  if (!answer.holds) return answer;
  const checkpoint = parseCheckpoint(signed.text);
  if (checkpoint.origin !== archive.name) return { holds: false, reason: 'another-origin', origin: checkpoint.origin };
  return { holds: true, checkpoint };
}

function refuse(pointer: string, expected: string, found: string): never {
  throw new Refusal('malformed', { pointer, expected, found });
}
