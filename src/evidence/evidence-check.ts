import { Refusal, type Check, type LogEntry, type Statement } from '../model/index.ts';
import type { NoteVerifier } from '../ledger/index.ts';
import type { SealCheckName, StatementCheckName, TimeStampCheckName } from '../sealing/index.ts';
import type { PackFacts } from './pack-facts.ts';
import type { OpenedPack } from './opened-pack.ts';

/** What is looked at in a pack. */
export type EvidenceCheckName =
  | 'listed'
  | 'there'
  | 'bytes'
  | 'archive-key'
  | 'list-sealed'
  | 'head-signed'
  | 'entry-form'
  | 'entry-in-log'
  | 'log-continues'
  | 'certificate-named'
  | 'statement-form'
  | 'statement-logged'
  | 'statement-head'
  | 'time-stamp-form'
  | 'time-stamped-head'
  | 'logged'
  | 'pages'
  | 'told-as-recorded'
  | 'account-as-told'
  | 'script'
  | 'head-seen'
  | 'fingerprint'
  | SealCheckName
  | StatementCheckName
  | TimeStampCheckName;

/** One check, and the member of the pack that it is about. */
export interface EvidenceCheck {
  readonly about: string;
  readonly check: Check<EvidenceCheckName>;
}

/** An entry of the log that its proof leads to. */
export interface ProvedEntry {
  readonly index: number;
  readonly bytes: Uint8Array;
  readonly says: LogEntry;
}

/**
 * What has been found in a pack so far. A step reads what the steps before it have proved, so that nothing rests on what
 * did not hold.
 */
export interface Findings {
  readonly pack: OpenedPack;
  /** SHA-256 of each member, as found; and as MEMBERS lists it. */
  readonly found: Map<string, string>;
  readonly listed: Map<string, string>;
  archive: NoteVerifier | null;
  /** The newest head that the archive signed. */
  head: { readonly size: number; readonly root: Uint8Array; readonly note: string } | null;
  /** Every size of the log of which it is proved what its root was. */
  readonly begins: Map<number, Uint8Array>;
  readonly entries: Map<number, ProvedEntry>;
  readonly certificates: Map<string, Uint8Array>;
  readonly statements: Map<number, Statement>;
  facts: PackFacts | null;
}

/** A check that holds. */
export function holds(about: string, name: EvidenceCheckName): EvidenceCheck {
  return { about, check: { name, outcome: 'holds' } };
}

/** A check that does not. */
export function fails(about: string, name: EvidenceCheckName, expected: string, found: string): EvidenceCheck {
  return { about, check: { name, outcome: 'fails', expected, found } };
}

/** A check that could not be made. */
export function unchecked(about: string, name: EvidenceCheckName, why: string): EvidenceCheck {
  return { about, check: { name, outcome: 'not-checked', why } };
}

/** A check by what it found. */
export function checked(
  about: string,
  name: EvidenceCheckName,
  isSo: boolean,
  otherwise: { readonly expected: string; readonly found: string },
): EvidenceCheck {
  return isSo ? holds(about, name) : fails(about, name, otherwise.expected, otherwise.found);
}

/** What something read, or the check that says why it cannot be; whatever else is thrown is a bug and passes. */
export async function readOr<T>(
  about: string,
  name: EvidenceCheckName,
  read: () => Promise<T>,
): Promise<{ readonly value: T } | { readonly fault: EvidenceCheck }> {
  try {
    return { value: await read() };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { fault: fails(about, name, 'what its form asks for', error.message) };
  }
}

/** Names of a folder of the pack with this ending, in order. */
export function namesIn({ names }: OpenedPack, folder: string, ending: string): readonly string[] {
  return names.filter((name) => name.startsWith(`${folder}/`) && name.endsWith(ending));
}

/** The number in a name like `log/000012.entry`; null where there is none. */
export function numberIn(name: string): number | null {
  const digits = /\/(\d{6,15})[.-][^/]*$/.exec(name)?.[1];
  return digits === undefined ? null : Number(digits);
}
