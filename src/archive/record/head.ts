import { hexOf, proveConsistency, proveInclusion, type ShownHead } from '../../ledger/index.ts';
import { Refusal, type Party } from '../../model/index.ts';
import type { KeptCheckpoint, Tables } from '../catalogue/index.ts';
import type { ArchiveIdentity } from '../identity/open-identity.ts';
import { saidIn } from '../statements/kept-statement.ts';
import { hashesOf } from './recorded.ts';

/** The log's head, signed by the archive. */
export interface SignedHead {
  readonly origin: string;
  /** With what its signature is checked: a line of the ledger's `formatVerifierKey`. */
  readonly verifierKey: string;
  readonly size: number;
  /** 64 hexadecimal digits. */
  readonly root: string;
  /** The signed checkpoint, as it is published. */
  readonly note: string;
  readonly atMs: number;
}

/** That an entry is in the log. */
export interface EntryProof {
  readonly index: number;
  /** The entry's own bytes, from which its hash is made. */
  readonly bytes: Uint8Array;
  readonly proof: readonly Uint8Array[];
  /** The head to whose root the proof leads. */
  readonly head: KeptCheckpoint;
}

/** A head that a side named when it signed. */
export interface HeadSeen {
  readonly party: Party;
  readonly statementId: string;
  readonly size: number;
  readonly root: string;
  readonly atMs: number;
}

/** The log's latest head. @throws {Refusal} unreadable: the log has none */
export async function headOf(tables: Tables, { origin, verifierKey }: ArchiveIdentity): Promise<SignedHead> {
  const { size, rootHash, note, atMs } = await latest(tables);
  return { origin, verifierKey, size, root: hexOf(rootHash), note, atMs };
}

/**
 * An entry and the proof that it is in the log.
 *
 * @param size  of the head to which it is proved; without it, of the latest
 * @throws {Refusal} not-found: no such entry, or no such head
 * @throws {Refusal} unreadable: hashes of the log are missing
 */
export async function proveEntry(tables: Tables, index: number, size?: number): Promise<EntryProof> {
  const head = size === undefined ? await latest(tables) : await headAt(tables, size);
  const entry = index < head.size ? await tables.log.entry(index) : null;
  if (entry === null) throw new Refusal('not-found', { what: 'entry' });
  const proof = await proveInclusion(hashesOf(tables), { index, size: head.size });
  return { index, bytes: entry.bytes, proof, head };
}

/**
 * How the log went on since a head that somebody remembers: what `checkHistory` wants. A remembered head that is larger
 * than this log can be no head of it; then nothing is proved, and whoever asks sees it.
 *
 * @param from  entries of the remembered head
 * @param to  entries of the head that is shown; without it, the latest
 * @throws {Refusal} not-found: no head of that size
 * @throws {Refusal} unreadable: hashes of the log are missing
 */
export async function proveHistory(tables: Tables, from: number, to?: number): Promise<ShownHead> {
  const { note, size } = to === undefined ? await latest(tables) : await headAt(tables, to);
  const [oldSize, newSize] = [Math.min(from, size), Math.max(from, size)];
  const isHere = newSize <= (await tables.log.size());
  return { note, proof: isHere ? await proveConsistency(hashesOf(tables), { oldSize, newSize }) : [] };
}

/** The heads that both sides of a title saw when they signed: each can hold its own against the other's. */
export async function headsSeen(tables: Tables, titleId: string): Promise<readonly HeadSeen[]> {
  return (await tables.statements.ofTitle(titleId)).map((kept) => {
    const { signer, head } = saidIn(kept);
    return { party: signer.party, statementId: kept.id, size: head.size, root: head.root, atMs: kept.atMs };
  });
}

async function latest(tables: Tables): Promise<KeptCheckpoint> {
  const head = await tables.log.latestCheckpoint();
  if (head !== null) return head;
  throw new Refusal('unreadable', { file: 'the log', reason: 'it has no head' });
}

async function headAt(tables: Tables, size: number): Promise<KeptCheckpoint> {
  const head = await tables.log.checkpoint(size);
  if (head !== null) return head;
  throw new Refusal('not-found', { what: 'head' });
}
