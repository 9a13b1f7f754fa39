import { Refusal } from '../model/index.ts';
import { openCheckpoint, type Checkpoint } from './checkpoint.ts';
import { checkHistory, compareHeads, meetArchive, type KeptHead, type Standing } from './history.ts';
import { parseVerifierKey } from './note-key.ts';

/** An archive as whoever signs meets it: what is remembered of it, what it shows now, and how it can be asked. */
export interface Meeting {
  /** Null: it is met for the first time. */
  readonly kept: KeptHead | null;
  /** The key that it says is its own counts only where it is met for the first time. */
  readonly shown: { readonly verifierKey: string; readonly note: string };
  /** Asks it to prove that the log of `to` entries begins with the one of `from`. */
  prove(this: void, from: number, to: number): Promise<readonly Uint8Array[]>;
}

/** What came of it: the head, its signature checked, and what to remember from now on. */
export interface MetLog {
  readonly head: Checkpoint;
  readonly keep: KeptHead;
  /** Nothing earlier vouches for it. */
  readonly isFirst: boolean;
}

/** A log that is not the one that was seen before: both heads are to be kept as proof, and nothing is to be signed. */
export type SplitHistory = Extract<Standing, { readonly kind: 'split' }>;

/**
 * Holds the log that an archive shows against the head that is remembered of it. Whoever signs without this signs on
 * whatever history is shown to them.
 *
 * @returns `split` where the archive shows another history than before: shrunk, rewritten, or not proved to go on
 * @throws {Refusal} unproven: it did not sign what it shows
 * @throws {Refusal} as `checkHistory`
 */
export async function meetLog({ kept, shown, prove }: Meeting): Promise<MetLog | { readonly split: SplitHistory }> {
  if (kept === null) {
    const keep = await meetArchive(shown.verifierKey, shown.note);
    if (keep === null) throw unsigned('another');
    return { head: await headIn(keep), keep, isFirst: true };
  }
  const [before, now] = [await headIn(kept), await headIn({ ...kept, note: shown.note })];
  const [from, to] = [Math.min(before.size, now.size), Math.max(before.size, now.size)];
  const proof = from === 0 || from === to ? [] : await prove(from, to);
  const { standing, keep } = await checkHistory(kept, { note: shown.note, proof });
  if (standing.kind === 'unsigned') throw unsigned(standing.why.reason);
  if (standing.kind === 'split') return { split: standing };
  return { head: await headIn(keep), keep, isFirst: false };
}

/** A head that somebody names without a signature, as a draft does. */
export interface NamedHead {
  readonly origin: string;
  readonly size: number;
  /** 64 hexadecimal digits. */
  readonly root: string;
}

/**
 * That a head which is only named continues the one that was met: what is signed on it is signed on the same history.
 *
 * @throws {Refusal} unproven: it is of another log, an earlier one, or not proved to continue it
 */
export async function requireContinues(met: Checkpoint, named: NamedHead, prove: Meeting['prove']): Promise<void> {
  const { origin, size } = named;
  const root = bytesOf(named.root);
  if (origin !== met.origin) throw another(met.origin, origin);
  if (root === null || size < met.size) throw another(`a log of at least ${met.size} entries`, `one of ${size}`);
  const proof = met.size === 0 || size === met.size ? [] : await prove(met.size, size);
  const standing = compareHeads({ kept: met, shown: { origin, size, root }, proof });
  if (standing.kind !== 'split') return;
  throw another(`a head that continues the one of ${met.size} entries`, `one that is ${standing.how}`);
}

async function headIn({ verifierKey, note }: KeptHead): Promise<Checkpoint> {
  const opened = await openCheckpoint(note, parseVerifierKey(verifierKey));
  if (opened.holds) return opened.checkpoint;
  throw unsigned(opened.reason);
}

function bytesOf(hex: string): Uint8Array | null {
  if (!/^[0-9a-f]{64}$/.test(hex)) return null;
  return Uint8Array.from({ length: 32 }, (_, at) => Number.parseInt(hex.slice(2 * at, 2 * at + 2), 16));
}

function unsigned(found: string): Refusal {
  const checks = [{ name: 'signature', expected: 'of the archive as it was met', found }];
  return new Refusal('unproven', { what: 'the archive’s log', checks });
}

function another(expected: string, found: string): Refusal {
  return new Refusal('unproven', { what: 'the archive’s log', checks: [{ name: 'history', expected, found }] });
}
