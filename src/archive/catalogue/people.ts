import type { Access } from './access.ts';
import type { Database } from './database.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, wordIn } from './row.ts';

/** What somebody may do for their party. Who may do anything may look. */
export type Right = 'look' | 'send-files' | 'sign';
/** In the order in which they are given; taken in the reverse. */
const RIGHTS: readonly Right[] = ['look', 'send-files', 'sign'];

/** Somebody of a party. */
export interface Person {
  readonly id: string;
  readonly partyId: string;
  readonly name: string;
  readonly rights: readonly Right[];
  readonly atMs: number;
}

/** A right given or taken, for the record. */
export interface RightChange {
  readonly may: Right;
  readonly change: 'given' | 'taken';
  readonly byPersonId: string | null;
  readonly atMs: number;
}

/** The people of all parties. */
export interface People {
  /** `byPersonId` is null for the first person of all. */
  add(given: {
    readonly partyId: string;
    readonly name: string;
    readonly rights: readonly Right[];
    readonly byPersonId: string | null;
    readonly at: number;
  }): Promise<Person>;
  get(id: string): Promise<Person | null>;
  ofParty(partyId: string): Promise<readonly Person[]>;
  /** Gives and takes until exactly these rights hold. */
  setRights(given: {
    readonly personId: string;
    readonly rights: readonly Right[];
    readonly byPersonId: string;
    readonly at: number;
  }): Promise<void>;
  rightChanges(personId: string): Promise<readonly RightChange[]>;
}

/** The tables of people and their rights. */
export function peopleIn(access: Access): People {
  return {
    add: ({ partyId, name, rights, byPersonId, at }) =>
      access.write((database) => {
        const person = { id: newId(), partyId, name, atMs: at };
        database.run('INSERT INTO person (id, party_id, name, at_ms) VALUES (:id, :partyId, :name, :atMs)', person);
        changeRights(database, person.id, rights, byPersonId, at);
        return { ...person, rights: rightsOf(database, person.id) };
      }),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM person WHERE id = :id', { id });
        return row && personOf(database, row);
      }),
    ofParty: (partyId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM person WHERE party_id = :partyId ORDER BY name, id', { partyId })
          .map((row) => personOf(database, row)),
      ),
    setRights: ({ personId, rights, byPersonId, at }) =>
      access.write((database) => changeRights(database, personId, rights, byPersonId, at)),
    rightChanges: (personId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM right_change WHERE person_id = :personId ORDER BY seq', { personId })
          .map((row) => ({
            may: wordIn(row, 'may', RIGHTS),
            change: wordIn(row, 'change', ['given', 'taken']),
            byPersonId: row.by_person_id === null ? null : textIn(row, 'by_person_id'),
            atMs: numberIn(row, 'at_ms'),
          })),
      ),
  };
}

function changeRights(
  database: Database,
  personId: string,
  wanted: readonly Right[],
  byPersonId: string | null,
  atMs: number,
): void {
  const held = rightsOf(database, personId);
  const note = (may: Right, change: 'given' | 'taken'): number =>
    database.run(
      `INSERT INTO right_change (person_id, may, change, by_person_id, at_ms)
       VALUES (:personId, :may, :change, :byPersonId, :atMs)`,
      { personId, may, change, byPersonId, atMs },
    );
  for (const right of RIGHTS.toReversed()) if (held.includes(right) && !wanted.includes(right)) note(right, 'taken');
  for (const right of RIGHTS) if (wanted.includes(right) && !held.includes(right)) note(right, 'given');
}

function rightsOf(database: Database, personId: string): readonly Right[] {
  const rows = database.all('SELECT may FROM person_right WHERE person_id = :personId', { personId });
  const held = rows.map((row) => wordIn(row, 'may', RIGHTS));
  return RIGHTS.filter((right) => held.includes(right));
}

function personOf(database: Database, row: Row): Person {
  const id = textIn(row, 'id');
  return {
    id,
    partyId: textIn(row, 'party_id'),
    name: textIn(row, 'name'),
    rights: rightsOf(database, id),
    atMs: numberIn(row, 'at_ms'),
  };
}
