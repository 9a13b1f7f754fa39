import { Refusal } from '../model/index.ts';
import { openCheckpoint, type Checkpoint, type OpenedCheckpoint } from './checkpoint.ts';
import { verifyConsistency, type ConsistencyAnswer, type ConsistencyClaim } from './consistency.ts';
import { parseVerifierKey } from './note-key.ts';
import { EMPTY_ROOT, isSameHash } from './tree-hash.ts';

/** What somebody remembers of an archive: its key, and the last head they saw under it, signature and all. */
export interface KeptHead {
  /** Line of `formatVerifierKey`. */
  readonly verifierKey: string;
  /** Signed checkpoint, as published. */
  readonly note: string;
}

/** What an archive shows when it is asked how it went on since then. */
export interface ShownHead {
  /** Signed checkpoint. */
  readonly note: string;
  /** Of consistency, from the smaller of the two logs to the larger; empty where they are equal or the smaller is. */
  readonly proof: readonly Uint8Array[];
}

/** Two heads of one log, and a proof as in `ShownHead`. */
export interface TwoHeads {
  readonly kept: Checkpoint;
  readonly shown: Checkpoint;
  readonly proof: readonly Uint8Array[];
}

/**
 * How the head that an archive shows stands to the one remembered. `split` means that the archive has shown two
 * histories of which neither continues the other: nothing may be signed on it, and both heads are to be kept as proof.
 */
export type Standing =
  | { readonly kind: 'same' }
  | { readonly kind: 'grown'; readonly by: number }
  /** An earlier head than the remembered one, and its beginning: an answer that came late. The remembered one stays. */
  | { readonly kind: 'older'; readonly by: number }
  | {
      readonly kind: 'split';
      /** Shrunk: entries are gone. Rewritten: other entries. Unproven: no proof, or one that fits no two such logs. */
      readonly how: 'shrunk' | 'rewritten' | 'unproven';
      readonly kept: Checkpoint;
      readonly shown: Checkpoint;
    };

/** What came of checking what an archive shows: how it stands and what to remember, or why its signature fails. */
export type HistoryAnswer =
  | { readonly standing: Standing; readonly keep: KeptHead }
  | { readonly standing: { readonly kind: 'unsigned'; readonly why: Failed }; readonly keep: KeptHead };

type Failed = Exclude<OpenedCheckpoint, { holds: true }>;

/**
 * Checks what an archive shows against what is remembered of it, before anything is signed on it.
 *
 * @returns with `keep`, what to remember from now on: the shown head where the log has grown, else the old one
 * @throws {Refusal} as `openCheckpoint`
 * @throws {Refusal} as `parseVerifierKey`
 * @throws {Refusal} unreadable: what was remembered does not bear its own archive's signature
 * @source common practice of witnesses of such logs, no source; proofs as verifyConsistency
 */
export async function checkHistory(kept: KeptHead, shown: ShownHead): Promise<HistoryAnswer> {
  const archive = parseVerifierKey(kept.verifierKey);
  const before = await openCheckpoint(kept.note, archive);
  if (!before.holds) {
    throw new Refusal('unreadable', { file: 'the remembered head', reason: `${archive.name} did not sign it` });
  }
  const now = await openCheckpoint(shown.note, archive);
  if (!now.holds) return { standing: { kind: 'unsigned', why: now }, keep: kept };
  const standing = compareHeads({ kept: before.checkpoint, shown: now.checkpoint, proof: shown.proof });
  return { standing, keep: standing.kind === 'grown' ? { ...kept, note: shown.note } : kept };
}

/**
 * What to remember of an archive met for the first time. Nothing earlier vouches for it: the key must come from
 * somebody one trusts, and the head is taken as it is.
 *
 * @returns null where the head is not signed with this key
 * @throws {Refusal} as `openCheckpoint`
 * @throws {Refusal} as `parseVerifierKey`
 */
export async function meetArchive(verifierKey: string, note: string): Promise<KeptHead | null> {
  const opened = await openCheckpoint(note, parseVerifierKey(verifierKey));
  return opened.holds ? { verifierKey, note } : null;
}

/**
 * How one head of a log stands to another that was seen before.
 *
 * @throws {Refusal} malformed: heads of two archives
 * @source as verifyConsistency
 */
export function compareHeads({ kept, shown, proof }: TwoHeads): Standing {
  if (kept.origin !== shown.origin) {
    throw new Refusal('malformed', { pointer: 'origin', expected: kept.origin, found: shown.origin });
  }
  const by = Math.abs(shown.size - kept.size);
  const hasShrunk = shown.size < kept.size;
  // A proof from an earlier head can only come from an archive that still has the entries; from an empty log there is
  // none, so an archive that was wiped cannot pass for one that answered late.
  const answer = hasShrunk ? verifyConsistency(claimOf(shown, kept, proof)) : continues(kept, shown, proof);
  if (answer === 'holds') return by === 0 ? { kind: 'same' } : { kind: hasShrunk ? 'older' : 'grown', by };
  if (hasShrunk) return { kind: 'split', how: 'shrunk', kept, shown };
  // With a proof of the right shape the entries themselves are others; one of another shape says nothing about them.
  const isRewritten = answer === 'other-old-root' || answer === 'other-new-root';
  return { kind: 'split', how: isRewritten ? 'rewritten' : 'unproven', kept, shown };
}

/** Whether the log with the later head begins with the earlier one, which may be empty. */
function continues(earlier: Checkpoint, later: Checkpoint, proof: readonly Uint8Array[]): ConsistencyAnswer {
  if (earlier.size > 0) return verifyConsistency(claimOf(earlier, later, proof));
  // Every log begins empty; RFC 9162 has no proof of it, and there is only one root of no entries.
  if (proof.length > 0) return 'too-long';
  if (!isSameHash(earlier.root, EMPTY_ROOT)) return 'other-old-root';
  return later.size > 0 || isSameHash(later.root, EMPTY_ROOT) ? 'holds' : 'other-new-root';
}

function claimOf(earlier: Checkpoint, later: Checkpoint, proof: readonly Uint8Array[]): ConsistencyClaim {
  return { oldSize: earlier.size, newSize: later.size, oldRoot: earlier.root, newRoot: later.root, proof };
}
