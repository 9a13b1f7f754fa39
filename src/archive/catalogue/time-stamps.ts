import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { bytesIn, numberIn, numberOrNullIn, textIn, textOrNullIn, wordIn } from './row.ts';

interface Asked {
  /** Of the checkpoint that is stamped. */
  readonly size: number;
  readonly authority: string;
  readonly tries: number;
  readonly lastCause: string | null;
  readonly askedMs: number;
}

/** A time-stamp of a head of the log: still wanted from its authority, or held. */
export type TimeStamp =
  | (Asked & { readonly state: 'pending'; readonly nextTryMs: number })
  | (Asked & { readonly state: 'held'; readonly token: Uint8Array; readonly heldMs: number });

interface Which {
  readonly size: number;
  readonly authority: string;
}

/** Time-stamps of heads. */
export interface TimeStamps {
  /** Asked for once; again changes nothing. */
  ask(given: Which & { readonly at: number }): Promise<void>;
  /** Pending ones whose next try has come, the oldest first. */
  due(given: { readonly at: number; readonly most: number }): Promise<readonly TimeStamp[]>;
  /** The authority gave none: it stays pending. */
  putOff(given: Which & { readonly cause: string; readonly nextTryMs: number }): Promise<void>;
  /** @returns false where a token is held already, which stays */
  hold(given: Which & { readonly token: Uint8Array; readonly at: number }): Promise<boolean>;
  ofHead(size: number): Promise<readonly TimeStamp[]>;
  /** Of all heads, the oldest first. */
  pending(): Promise<readonly TimeStamp[]>;
  /** Held for the smallest head that covers so many entries: the earliest proof of when they were there. */
  firstCovering(entries: number): Promise<TimeStamp | null>;
  /** Entries of the largest head that an authority was asked to stamp; null where it was asked for none. */
  latestAsked(authority: string): Promise<number | null>;
}

const WHICH = 'tree_size = :size AND authority = :authority';

/** The table of time-stamps. */
export function timeStampsIn(access: Access): TimeStamps {
  return {
    ask: ({ size, authority, at }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO time_stamp (tree_size, authority, state, tries, next_try_ms, asked_ms)
             SELECT :size, :authority, 'pending', 0, :at, :at
             WHERE NOT EXISTS (SELECT 1 FROM time_stamp WHERE ${WHICH})`,
            { size, authority, at },
          ),
      ),
    due: ({ at, most }) =>
      access.read((database) =>
        database
          .all(
            `SELECT * FROM time_stamp WHERE state = 'pending' AND next_try_ms <= :at
             ORDER BY next_try_ms, tree_size LIMIT :most`,
            { at, most },
          )
          .map(timeStampOf),
      ),
    putOff: ({ size, authority, cause, nextTryMs }) =>
      access.write(
        (database) =>
          void database.run(
            `UPDATE time_stamp SET tries = tries + 1, last_cause = :cause, next_try_ms = :nextTryMs
             WHERE ${WHICH} AND state = 'pending'`,
            { size, authority, cause, nextTryMs },
          ),
      ),
    hold: ({ size, authority, token, at }) =>
      access.write(
        (database) =>
          database.run(
            `UPDATE time_stamp SET state = 'held', token = :token, held_ms = :at, next_try_ms = NULL
             WHERE ${WHICH} AND state = 'pending'`,
            { size, authority, token, at },
          ) === 1,
      ),
    pending: () =>
      access.read((database) =>
        database.all(`SELECT * FROM time_stamp WHERE state = 'pending' ORDER BY tree_size, authority`).map(timeStampOf),
      ),
    firstCovering: (entries) =>
      access.read((database) => {
        const row = database.one(
          `SELECT * FROM time_stamp WHERE state = 'held' AND tree_size >= :entries
           ORDER BY tree_size, authority LIMIT 1`,
          { entries },
        );
        return row && timeStampOf(row);
      }),
    latestAsked: (authority) =>
      access.read((database) =>
        numberOrNullIn(
          database.one('SELECT max(tree_size) AS size FROM time_stamp WHERE authority = :authority', { authority }) ?? {
            size: null,
          },
          'size',
        ),
      ),
    ofHead: (size) =>
      access.read((database) =>
        database.all('SELECT * FROM time_stamp WHERE tree_size = :size ORDER BY authority', { size }).map(timeStampOf),
      ),
  };
}

function timeStampOf(row: Row): TimeStamp {
  const asked = {
    size: numberIn(row, 'tree_size'),
    authority: textIn(row, 'authority'),
    tries: numberIn(row, 'tries'),
    lastCause: textOrNullIn(row, 'last_cause'),
    askedMs: numberIn(row, 'asked_ms'),
  };
  if (wordIn(row, 'state', ['pending', 'held']) === 'pending') {
    return { ...asked, state: 'pending', nextTryMs: numberIn(row, 'next_try_ms') };
  }
  return { ...asked, state: 'held', token: bytesIn(row, 'token'), heldMs: numberIn(row, 'held_ms') };
}
