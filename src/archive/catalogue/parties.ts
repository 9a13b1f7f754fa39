import type { Access } from './access.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, textOrNullIn } from './row.ts';

/** Whoever may be a side of a title, or be given sight of one: a house, a studio, a single author. */
export interface Party {
  readonly id: string;
  readonly name: string;
  /** Who brought it in; null for the first of all. */
  readonly byPersonId: string | null;
  readonly atMs: number;
}

/** The parties that the archive knows. */
export interface Parties {
  add(given: { readonly name: string; readonly byPersonId?: string | null; readonly at: number }): Promise<Party>;
  get(id: string): Promise<Party | null>;
  byName(name: string): Promise<Party | null>;
  list(): Promise<readonly Party[]>;
  /** Those whom a party may know of: by a title of both, or because one brought the other in; itself among them. */
  knownTo(partyId: string): Promise<readonly Party[]>;
}

/** The table of parties. */
export function partiesIn(access: Access): Parties {
  return {
    add: ({ name, byPersonId = null, at }) =>
      access.write((database) => {
        const party = { id: newId(), name, byPersonId, atMs: at };
        database.run(
          'INSERT INTO party (id, name, by_person_id, at_ms) VALUES (:id, :name, :byPersonId, :atMs)',
          party,
        );
        return party;
      }),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM party WHERE id = :id', { id });
        return row && partyOf(row);
      }),
    byName: (name) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM party WHERE name = :name', { name });
        return row && partyOf(row);
      }),
    knownTo: (partyId) => access.read((database) => database.all(KNOWN, { partyId }).map(partyOf)),
    list: () => access.read((database) => database.all('SELECT * FROM party ORDER BY name').map(partyOf)),
  };
}

const KNOWN = `SELECT * FROM party WHERE id = :partyId
    OR id IN (SELECT others.party_id FROM standing AS own JOIN standing AS others USING (title_id)
      WHERE own.party_id = :partyId)
    OR by_person_id IN (SELECT id FROM person WHERE party_id = :partyId)
    OR id = (SELECT person.party_id FROM party AS own JOIN person ON person.id = own.by_person_id
      WHERE own.id = :partyId)
  ORDER BY name`;

function partyOf(row: Row): Party {
  return {
    id: textIn(row, 'id'),
    name: textIn(row, 'name'),
    byPersonId: textOrNullIn(row, 'by_person_id'),
    atMs: numberIn(row, 'at_ms'),
  };
}
