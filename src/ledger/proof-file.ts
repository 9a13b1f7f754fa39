import { Refusal } from '../model/index.ts';
import { formatBase64, parseBase64 } from './base64.ts';
import { openCheckpoint, type OpenedCheckpoint } from './checkpoint.ts';
import { verifyInclusion, type InclusionAnswer } from './inclusion.ts';
import type { NoteVerifier } from './note-key.ts';

/** That an entry is in the log, in a file of its own: for evidence that is checked without the archive. */
export interface ProofFile {
  /** Of the entry, from 0. */
  readonly index: number;
  readonly proof: readonly Uint8Array[];
  /** The signed checkpoint to whose root the proof leads. */
  readonly note: string;
}

/** That an entry is in the log of an archive, as a file has it. */
export interface FileClaim {
  readonly file: ProofFile;
  /** The entry's hash: made with `hashLeaf` from its bytes. */
  readonly leaf: Uint8Array;
  readonly archive: NoteVerifier;
}

/** What came of checking a proof file, each check with its own answer. */
export interface FileAnswer {
  readonly checkpoint: OpenedCheckpoint;
  readonly inclusion: InclusionAnswer | 'not-checked';
}

const FIRST_LINE = 'c2sp.org/tlog-proof@v1';

/**
 * A proof as a file; by custom its name ends with `.tlog-proof`.
 *
 * @source C2SP tlog-proof v1 (as of 2025); values in test/standards/ledger
 */
export function formatProofFile({ index, proof, note }: ProofFile): string {
  return [FIRST_LINE, `index ${index}`, ...formatProof(proof), '', note].join('\n');
}

/**
 * Reads a proof file; says nothing of whether it holds.
 *
 * @throws {Refusal} malformed: not such a file
 * @source as formatProofFile
 */
export function parseProofFile(text: string): ProofFile {
  const end = text.indexOf('\n\n');
  const [first, indexLine, ...lines] = text.slice(0, Math.max(end, 0)).split('\n');
  const index = Number(/^index (0|[1-9]\d*)$/.exec(indexLine ?? '')?.[1] ?? NaN);
  if (first !== FIRST_LINE || !Number.isSafeInteger(index)) {
    throw new Refusal('malformed', { pointer: 'proof', expected: `${FIRST_LINE} and an index`, found: 'other lines' });
  }
  return { index, proof: parseProof(lines), note: text.slice(end + 2) };
}

/**
 * Whether an entry is in the log of an archive, on the word of this file alone.
 *
 * @throws {Refusal} as `openCheckpoint`
 * @source as verifyInclusion
 */
export async function verifyProofFile(claim: FileClaim): Promise<FileAnswer> {
  const { index, proof, note } = claim.file;
  const checkpoint = await openCheckpoint(note, claim.archive);
  if (!checkpoint.holds) return { checkpoint, inclusion: 'not-checked' };
  const { size, root } = checkpoint.checkpoint;
  return { checkpoint, inclusion: verifyInclusion({ leaf: claim.leaf, index, size, root, proof }) };
}

/**
 * A proof's hashes as lines, or as strings in JSON.
 *
 * @source RFC 4648 4
 */
export function formatProof(proof: readonly Uint8Array[]): string[] {
  return proof.map(formatBase64);
}

/**
 * The hashes of a proof's lines. Their length is for the verification to judge.
 *
 * @throws {Refusal} as `parseBase64`
 * @throws {Refusal} too-large: more than 63 lines, which no log has
 * @source C2SP tlog-witness (as of 2025): at most 63
 */
export function parseProof(lines: readonly string[]): Uint8Array[] {
  if (lines.length > 63) {
    throw new Refusal('too-large', { what: 'a proof', limit: 63, found: lines.length, unit: 'hashes' });
  }
  return lines.map((line, index) => parseBase64(line, `proof/${index}`));
}
