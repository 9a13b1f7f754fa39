import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { numberIn, numberOrNullIn, textIn, textOrNullIn, wordIn } from './row.ts';

/** What somebody may come in with: a person's session, a machine's token, or a link that makes an account once. */
export interface Entrance {
  /** SHA-256 of the token in hexadecimal; the token itself is only with its holder. */
  readonly tokenHash: string;
  readonly kind: 'session' | 'token' | 'invitation';
  /** Null: the invitation of the very first person. */
  readonly personId: string | null;
  readonly label: string;
  readonly madeMs: number;
  /** Null: until it is ended. */
  readonly untilMs: number | null;
}

/** Sessions, tokens and invitations. */
export interface Entrances {
  add(entrance: Entrance): Promise<void>;
  /** Null where there is none, where it ran out, and where it was ended. */
  open(tokenHash: string, at: number): Promise<Entrance | null>;
  /** Ends one, once. @returns whether it was this call that ended it, so that an invitation serves one person only */
  end(tokenHash: string, at: number): Promise<boolean>;
  /** Ends all sessions of a person, as after a change of the password. @returns how many */
  endSessions(personId: string, at: number): Promise<number>;
  /** Those of a person that are still good. */
  ofPerson(personId: string, at: number): Promise<readonly Entrance[]>;
}

const GOOD = 'ended_ms IS NULL AND (until_ms IS NULL OR until_ms > :at)';

/** The table of entrances. */
export function entrancesIn(access: Access): Entrances {
  return {
    add: ({ tokenHash, kind, personId, label, madeMs, untilMs }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO entrance (token_hash, kind, person_id, label, made_ms, until_ms)
             VALUES (:tokenHash, :kind, :personId, :label, :madeMs, :untilMs)`,
            { tokenHash, kind, personId, label, madeMs, untilMs },
          ),
      ),
    open: (tokenHash, at) =>
      access.read((database) => {
        const row = database.one(`SELECT * FROM entrance WHERE token_hash = :tokenHash AND ${GOOD}`, { tokenHash, at });
        return row && entranceOf(row);
      }),
    end: (tokenHash, at) =>
      access.write(
        (database) =>
          database.run(`UPDATE entrance SET ended_ms = :at WHERE token_hash = :tokenHash AND ${GOOD}`, {
            tokenHash,
            at,
          }) === 1,
      ),
    endSessions: (personId, at) =>
      access.write((database) =>
        database.run(
          `UPDATE entrance SET ended_ms = :at WHERE person_id = :personId AND kind = 'session' AND ${GOOD}`,
          { personId, at },
        ),
      ),
    ofPerson: (personId, at) =>
      access.read((database) =>
        database
          .all(`SELECT * FROM entrance WHERE person_id = :personId AND ${GOOD} ORDER BY made_ms, token_hash`, {
            personId,
            at,
          })
          .map(entranceOf),
      ),
  };
}

function entranceOf(row: Row): Entrance {
  return {
    tokenHash: textIn(row, 'token_hash'),
    kind: wordIn(row, 'kind', ['session', 'token', 'invitation']),
    personId: textOrNullIn(row, 'person_id'),
    label: textIn(row, 'label'),
    madeMs: numberIn(row, 'made_ms'),
    untilMs: numberOrNullIn(row, 'until_ms'),
  };
}
