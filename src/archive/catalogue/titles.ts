import type { Access } from './access.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, wordIn } from './row.ts';

/** A book being made, under the name that holds now. */
export interface Title {
  readonly id: string;
  readonly name: string;
  readonly publisherId: string;
  readonly printerId: string;
  readonly byPersonId: string;
  readonly atMs: number;
}

/** What is proofed on its own. */
export type PartKind = 'book-block' | 'case' | 'jacket' | 'endpapers';
const PART_KINDS: readonly PartKind[] = ['book-block', 'case', 'jacket', 'endpapers'];

/** A part of a title; `label` tells two of a kind apart. */
export interface Part {
  readonly id: string;
  readonly titleId: string;
  readonly kind: PartKind;
  readonly label: string;
  readonly atMs: number;
}

/** Titles and their parts. */
export interface Titles {
  add(given: {
    readonly name: string;
    readonly publisherId: string;
    readonly printerId: string;
    readonly byPersonId: string;
    readonly at: number;
  }): Promise<Title>;
  /** The former names stay on record. */
  rename(given: {
    readonly titleId: string;
    readonly name: string;
    readonly byPersonId: string;
    readonly at: number;
  }): Promise<void>;
  get(id: string): Promise<Title | null>;
  /** Former names and the present one, the oldest first. */
  names(titleId: string): Promise<readonly string[]>;
  /** Those that a party may see, the newest first. `before` goes on after a title of the last answer. */
  seenBy(partyId: string, page: { readonly most: number; readonly before?: string }): Promise<readonly Title[]>;
  addPart(given: {
    readonly titleId: string;
    readonly kind: PartKind;
    readonly label?: string;
    readonly at: number;
  }): Promise<Part>;
  part(id: string): Promise<Part | null>;
  parts(titleId: string): Promise<readonly Part[]>;
}

const NAMED = `SELECT title.*, (SELECT name FROM title_name WHERE title_id = title.id ORDER BY seq DESC LIMIT 1) AS name
  FROM title`;
const NAME = `INSERT INTO title_name (title_id, name, by_person_id, at_ms) VALUES (:titleId, :name, :byPersonId, :at)`;

/** The tables of titles, their names and their parts. */
export function titlesIn(access: Access): Titles {
  return {
    add: ({ name, publisherId, printerId, byPersonId, at }) =>
      access.write((database) => {
        const id = newId();
        database.run(
          `INSERT INTO title (id, publisher_id, printer_id, by_person_id, at_ms)
           VALUES (:id, :publisherId, :printerId, :byPersonId, :at)`,
          { id, publisherId, printerId, byPersonId, at },
        );
        database.run(NAME, { titleId: id, name, byPersonId, at });
        return { id, name, publisherId, printerId, byPersonId, atMs: at };
      }),
    rename: (given) => access.write((database) => void database.run(NAME, given)),
    get: (id) =>
      access.read((database) => {
        const row = database.one(`${NAMED} WHERE id = :id`, { id });
        return row && titleOf(row);
      }),
    names: (titleId) =>
      access.read((database) =>
        database
          .all('SELECT name FROM title_name WHERE title_id = :titleId ORDER BY seq', { titleId })
          .map((row) => textIn(row, 'name')),
      ),
    seenBy: (partyId, { most, before = null }) =>
      access.read((database) =>
        database
          .all(
            `${NAMED} WHERE id IN (SELECT title_id FROM standing WHERE party_id = :partyId)
               AND (:before IS NULL OR rowid < (SELECT rowid FROM title WHERE id = :before))
             ORDER BY rowid DESC LIMIT :most`,
            { partyId, most, before },
          )
          .map(titleOf),
      ),
    addPart: ({ titleId, kind, label = '', at }) =>
      access.write((database) => {
        const part = { id: newId(), titleId, kind, label, atMs: at };
        database.run(
          'INSERT INTO part (id, title_id, kind, label, at_ms) VALUES (:id, :titleId, :kind, :label, :atMs)',
          part,
        );
        return part;
      }),
    part: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM part WHERE id = :id', { id });
        return row && partOf(row);
      }),
    parts: (titleId) =>
      access.read((database) =>
        database.all('SELECT * FROM part WHERE title_id = :titleId ORDER BY rowid', { titleId }).map(partOf),
      ),
  };
}

function titleOf(row: Row): Title {
  return {
    id: textIn(row, 'id'),
    name: textIn(row, 'name'),
    publisherId: textIn(row, 'publisher_id'),
    printerId: textIn(row, 'printer_id'),
    byPersonId: textIn(row, 'by_person_id'),
    atMs: numberIn(row, 'at_ms'),
  };
}

function partOf(row: Row): Part {
  return {
    id: textIn(row, 'id'),
    titleId: textIn(row, 'title_id'),
    kind: wordIn(row, 'kind', PART_KINDS),
    label: textIn(row, 'label'),
    atMs: numberIn(row, 'at_ms'),
  };
}
