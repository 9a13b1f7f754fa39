import {
  formatBase64,
  formatProof,
  formatProofFile,
  openCheckpoint,
  parseNote,
  proveConsistency,
  proveInclusion,
  rootAt,
  type KeptHashes,
  type NoteVerifier,
} from '../../ledger/index.ts';
import type { LogEntry } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { CONSISTENCY_LINE, inName, keyTexts } from '../../evidence/index.ts';
import { memberOf, type Member } from './member.ts';

/** Where the log stands for a pack: its newest head, and the hashes below it. */
export interface LogSource {
  readonly hashes: KeptHashes;
  readonly size: number;
  readonly note: string;
}

/** The archive's key as a line of the log and as OpenSSL reads it. */
export function keyMembers(verifierKey: string, archive: NoteVerifier): readonly Member[] {
  return [...keyTexts(verifierKey, archive)].map(([name, text]) => memberOf(name, text));
}

/** An entry of the log, and the proof that it is there. */
export async function entryMembers({ index, bytes }: LogEntry, log: LogSource): Promise<readonly Member[]> {
  const proof = await proveInclusion(log.hashes, { index, size: log.size });
  const name = `log/${inName(index)}`;
  return [
    memberOf(`${name}.entry`, bytes),
    memberOf(`${name}.tlog-proof`, formatProofFile({ index, proof, note: log.note })),
  ];
}

/**
 * A signed head of the log, whole and taken apart: OpenSSL wants text and signature in files of their own.
 *
 * @throws {Refusal} unreadable: the archive did not sign it
 */
export async function headMembers(size: number, note: string, archive: NoteVerifier): Promise<readonly Member[]> {
  const opened = await openCheckpoint(note, archive);
  if (!opened.holds || opened.checkpoint.size !== size) {
    throw new Refusal('unreadable', { file: 'the log', reason: `its head of ${size} entries is not signed by it` });
  }
  const { text, signatures } = parseNote(note);
  // Witnesses may have signed, too; their keys are not in the pack.
  const own = signatures.filter(({ keyId, name }) => keyId === archive.keyId && name === archive.name).slice(0, 1);
  const name = `heads/${inName(size)}`;
  return [
    memberOf(`${name}.note`, note),
    memberOf(`${name}.signed`, text),
    ...own.map(({ signature }) => memberOf(`${name}.sig`, signature)),
  ];
}

/** The proof that the log of a pack's head begins with the log of an earlier size. */
export async function consistencyMember(size: number, log: LogSource): Promise<Member> {
  const proof = await proveConsistency(log.hashes, { oldSize: size, newSize: log.size });
  const begin = `${size} ${formatBase64(await rootAt(log.hashes, size))}`;
  const lines = [CONSISTENCY_LINE, begin, ...formatProof(proof)];
  return memberOf(`heads/${inName(size)}.consistency`, `${lines.join('\n')}\n`);
}
