import { appendLeaf, EMPTY_FRONTIER, hashLeaf, type Frontier, type KeptHashes } from '../../src/ledger/index.ts';

/** A log grown entry by entry, as an archive grows it: what it keeps, and how often it was asked for a kept hash. */
export interface GrownLog extends KeptHashes {
  readonly frontier: Frontier;
  readonly leaves: readonly Uint8Array[];
  readonly kept: Map<string, Uint8Array>;
  asked: number;
}

/** Appends all entries to an empty log and keeps what `appendLeaf` gives to keep. */
export function growLog(entries: readonly Uint8Array[]): GrownLog {
  const kept = new Map<string, Uint8Array>();
  const leaves = entries.map(hashLeaf);
  let frontier = EMPTY_FRONTIER;
  for (const leaf of leaves) {
    const appended = appendLeaf(frontier, leaf);
    frontier = appended.frontier;
    appended.whole.forEach(({ level, index, hash }) => kept.set(`${level}/${index}`, hash));
  }
  const log: GrownLog = {
    frontier,
    leaves,
    kept,
    asked: 0,
    hashOf(level, index) {
      log.asked++;
      return kept.get(`${level}/${index}`);
    },
  };
  return log;
}

/** Entries that are all different: their own numbers. */
export function numbered(count: number): Uint8Array[] {
  return Array.from({ length: count }, (_, index) => new TextEncoder().encode(`entry ${index}`));
}

/** Bytes of hexadecimal digits. */
export const bytesOf = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex, 'hex'));
