import {
  appendLeaf,
  EMPTY_FRONTIER,
  hashLeaf,
  hexOf,
  openCheckpoint,
  parseVerifierKey,
  rootOfFrontier,
  type NoteVerifier,
  type SubtreeHash,
} from '../../ledger/index.ts';
import { parseLogEntry, Refusal } from '../../model/index.ts';
import type { KeptCheckpoint, LogEntry, Tables } from '../catalogue/index.ts';
import { faultsOfStatement, type RootAt } from './examine-statement.ts';

/** What was looked at in a log, and what does not hold. */
export interface LogExamined {
  readonly entries: number;
  readonly heads: number;
  readonly statements: number;
  /** In words, one a fault; none where the log holds. */
  readonly faults: readonly string[];
}

const AT_ONCE = 500;

/**
 * Reads the log from its first entry to its latest head and makes every hash and root again: entries, the hashes kept of
 * the tree, the heads and their signatures, and each statement: that it is the one which its entry names, with a signature
 * that holds. It may be used meanwhile. A log that was rewritten with the archive's own key, after the last statement, holds here; only
 * heads in other hands tell.
 */
export async function examineLog(tables: Tables): Promise<LogExamined> {
  const faults: string[] = [];
  const kept = await tables.log.size();
  const covered = (await tables.log.latestCheckpoint())?.size ?? 0;
  if (covered < kept) faults.push(`the latest head covers ${covered} of ${kept} entries`);
  const identity = await tables.identity.get();
  const key = identity && parseVerifierKey(identity.verifierKey);
  let frontier = EMPTY_FRONTIER;
  let [heads, statements] = [0, 0];
  const roots = [hexOf(rootOfFrontier(frontier))];
  while (frontier.size < covered) {
    const entries = await tables.log.entries({
      from: frontier.size,
      most: Math.min(AT_ONCE, covered - frontier.size),
    });
    for (const entry of entries) {
      const grown = appendLeaf(frontier, hashLeaf(entry.bytes));
      frontier = grown.frontier;
      faults.push(
        ...(await faultsOfEntry(tables, entry, (size) => roots[size])),
        ...(await faultsOfTree(tables, grown.whole)),
      );
      roots.push(hexOf(rootOfFrontier(frontier)));
      if (entry.kind === 'statement') statements += 1;
      const head = await tables.log.checkpoint(frontier.size);
      if (head === null) continue;
      heads += 1;
      if (hexOf(head.rootHash) !== roots[frontier.size]) faults.push(`head ${head.size} has another root`);
      if (key !== null && !(await isSigned(head, key))) faults.push(`head ${head.size} is not signed by the archive`);
    }
    if (entries.length === 0)
      return { entries: frontier.size, heads, statements, faults: [...faults, 'entries are missing'] };
  }
  return { entries: frontier.size, heads, statements, faults };
}

async function faultsOfTree(tables: Tables, whole: readonly SubtreeHash[]): Promise<readonly string[]> {
  const faults: string[] = [];
  for (const { level, index, hash } of whole) {
    const kept = await tables.log.node(level, index);
    if (kept === null || hexOf(kept) !== hexOf(hash)) faults.push(`hash ${index} of level ${level} is another`);
  }
  return faults;
}

async function faultsOfEntry(tables: Tables, entry: LogEntry, rootAt: RootAt): Promise<readonly string[]> {
  const { index, bytes, leafHash, kind, titleId } = entry;
  const faults = hexOf(leafHash) === hexOf(hashLeaf(bytes)) ? [] : [`entry ${index} is not what its hash says`];
  try {
    const said = parseLogEntry(bytes);
    if (said.kind !== kind || said.title !== titleId) faults.push(`entry ${index} is filed as another`);
    if (kind === 'statement') faults.push(...(await faultsOfStatement(tables, entry, said.subjects, rootAt)));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    faults.push(`entry ${index} is none: ${error.message}`);
  }
  return faults;
}

async function isSigned(head: KeptCheckpoint, key: NoteVerifier): Promise<boolean> {
  try {
    const opened = await openCheckpoint(head.note, key);
    return (
      opened.holds && opened.checkpoint.size === head.size && hexOf(opened.checkpoint.root) === hexOf(head.rootHash)
    );
  } catch (error) {
    if (error instanceof Refusal) return false;
    throw error;
  }
}
