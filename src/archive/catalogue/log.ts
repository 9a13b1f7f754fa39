import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { bytesIn, numberIn, textIn, textOrNullIn } from './row.ts';

/** An entry of the log as it is kept; bytes and hash are the ledger's own. */
export interface LogEntry {
  /** From 0. */
  readonly index: number;
  readonly kind: string;
  /** Null: of the archive as a whole. */
  readonly titleId: string | null;
  readonly bytes: Uint8Array;
  /** 32 bytes. */
  readonly leafHash: Uint8Array;
  readonly atMs: number;
}

/** The root of a complete subtree: level 0 are the leaves, `position` counts from the left, from 0. */
export interface LogNode {
  readonly level: number;
  readonly position: number;
  /** 32 bytes. */
  readonly hash: Uint8Array;
}

/** A head of the log, signed by the archive. */
export interface KeptCheckpoint {
  readonly size: number;
  /** 32 bytes. */
  readonly rootHash: Uint8Array;
  readonly note: string;
  readonly atMs: number;
}

/** The log's rows. What they mean and whether they hold is the ledger's business. */
export interface Log {
  size(): Promise<number>;
  /** Entry, the nodes that it completes, and the head, in one transaction of `together`; the index must be the next. */
  append(entry: LogEntry, nodes: readonly LogNode[]): Promise<void>;
  entry(index: number): Promise<LogEntry | null>;
  /** From an index on, in order. */
  entries(page: { readonly from: number; readonly most: number }): Promise<readonly LogEntry[]>;
  ofTitle(titleId: string, page: { readonly from: number; readonly most: number }): Promise<readonly LogEntry[]>;
  node(level: number, position: number): Promise<Uint8Array | null>;
  addCheckpoint(checkpoint: KeptCheckpoint): Promise<void>;
  checkpoint(size: number): Promise<KeptCheckpoint | null>;
  latestCheckpoint(): Promise<KeptCheckpoint | null>;
}

/** The tables of entries, nodes and checkpoints. */
export function logIn(access: Access): Log {
  return {
    size: () => access.read((database) => numberIn(database.one(SIZE) ?? {}, 'size')),
    append: (entry, nodes) =>
      access.write((database) => {
        const { index, kind, titleId, bytes, leafHash, atMs } = entry;
        database.run(
          `INSERT INTO log_entry (log_index, kind, title_id, bytes, leaf_hash, at_ms)
           VALUES (:index, :kind, :titleId, :bytes, :leafHash, :atMs)`,
          { index, kind, titleId, bytes, leafHash, atMs },
        );
        for (const { level, position, hash } of nodes) {
          database.run('INSERT INTO log_node (level, position, hash) VALUES (:level, :position, :hash)', {
            level,
            position,
            hash,
          });
        }
      }),
    entry: (index) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM log_entry WHERE log_index = :index', { index });
        return row && entryOf(row);
      }),
    entries: ({ from, most }) =>
      access.read((database) =>
        database
          .all('SELECT * FROM log_entry WHERE log_index >= :from ORDER BY log_index LIMIT :most', { from, most })
          .map(entryOf),
      ),
    ofTitle: (titleId, { from, most }) =>
      access.read((database) =>
        database
          .all(
            `SELECT * FROM log_entry WHERE title_id = :titleId AND log_index >= :from ORDER BY log_index LIMIT :most`,
            { titleId, from, most },
          )
          .map(entryOf),
      ),
    node: (level, position) =>
      access.read((database) => {
        const row = database.one('SELECT hash FROM log_node WHERE level = :level AND position = :position', {
          level,
          position,
        });
        return row && bytesIn(row, 'hash');
      }),
    addCheckpoint: ({ size, rootHash, note, atMs }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO checkpoint (tree_size, root_hash, note, at_ms) VALUES (:size, :rootHash, :note, :atMs)`,
            { size, rootHash, note, atMs },
          ),
      ),
    checkpoint: (size) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM checkpoint WHERE tree_size = :size', { size });
        return row && checkpointOf(row);
      }),
    latestCheckpoint: () =>
      access.read((database) => {
        const row = database.one('SELECT * FROM checkpoint ORDER BY tree_size DESC LIMIT 1');
        return row && checkpointOf(row);
      }),
  };
}

const SIZE = 'SELECT 1 + coalesce(max(log_index), -1) AS size FROM log_entry';

function entryOf(row: Row): LogEntry {
  return {
    index: numberIn(row, 'log_index'),
    kind: textIn(row, 'kind'),
    titleId: textOrNullIn(row, 'title_id'),
    bytes: bytesIn(row, 'bytes'),
    leafHash: bytesIn(row, 'leaf_hash'),
    atMs: numberIn(row, 'at_ms'),
  };
}

function checkpointOf(row: Row): KeptCheckpoint {
  return {
    size: numberIn(row, 'tree_size'),
    rootHash: bytesIn(row, 'root_hash'),
    note: textIn(row, 'note'),
    atMs: numberIn(row, 'at_ms'),
  };
}
