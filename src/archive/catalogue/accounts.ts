import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { numberIn, numberOrNullIn, textIn } from './row.ts';

/** How a person signs in. */
export interface Account {
  readonly personId: string;
  /** Large and small letters of ASCII are the same. */
  readonly signInName: string;
  /** As argon2id writes it, with its parameters; the password itself is nowhere. */
  readonly passwordHash: string;
  /** In a row, since the last success. */
  readonly failedTries: number;
  /** Null: not locked. */
  readonly lockedUntilMs: number | null;
}

/** Accounts of people. */
export interface Accounts {
  add(given: Pick<Account, 'personId' | 'signInName' | 'passwordHash'> & { readonly at: number }): Promise<void>;
  byName(signInName: string): Promise<Account | null>;
  ofPerson(personId: string): Promise<Account | null>;
  setPassword(personId: string, passwordHash: string): Promise<void>;
  /** Counts a failure, counted in the database so that many at once are all counted. @returns how many in a row */
  failed(personId: string): Promise<number>;
  lock(personId: string, untilMs: number): Promise<void>;
  /** The right password was given: nothing counts against them any more. */
  succeeded(personId: string): Promise<void>;
}

/** The table of accounts. */
export function accountsIn(access: Access): Accounts {
  const change = (sql: string, values: Readonly<Record<string, string | number>>): Promise<void> =>
    access.write((database) => void database.run(`UPDATE account SET ${sql} WHERE person_id = :personId`, values));
  return {
    add: ({ personId, signInName, passwordHash, at }) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO account (person_id, sign_in_name, password_hash, failed_tries, made_ms)
             VALUES (:personId, :signInName, :passwordHash, 0, :at)`,
            { personId, signInName, passwordHash, at },
          ),
      ),
    byName: (signInName) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM account WHERE sign_in_name = :signInName', { signInName });
        return row && accountOf(row);
      }),
    ofPerson: (personId) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM account WHERE person_id = :personId', { personId });
        return row && accountOf(row);
      }),
    setPassword: (personId, passwordHash) => change('password_hash = :passwordHash', { personId, passwordHash }),
    failed: (personId) =>
      access.write((database) => {
        database.run('UPDATE account SET failed_tries = failed_tries + 1 WHERE person_id = :personId', { personId });
        const row = database.one('SELECT failed_tries FROM account WHERE person_id = :personId', { personId });
        return row === null ? 0 : numberIn(row, 'failed_tries');
      }),
    lock: (personId, untilMs) => change('locked_until_ms = :untilMs', { personId, untilMs }),
    succeeded: (personId) => change('failed_tries = 0, locked_until_ms = NULL', { personId }),
  };
}

function accountOf(row: Row): Account {
  return {
    personId: textIn(row, 'person_id'),
    signInName: textIn(row, 'sign_in_name'),
    passwordHash: textIn(row, 'password_hash'),
    failedTries: numberIn(row, 'failed_tries'),
    lockedUntilMs: numberOrNullIn(row, 'locked_until_ms'),
  };
}
