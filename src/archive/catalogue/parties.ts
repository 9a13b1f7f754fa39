import type { Access } from './access.ts';
import { newId } from './new-id.ts';
import type { Row } from './row.ts';
import { numberIn, textIn } from './row.ts';

/** Whoever may be a side of a title, or be given sight of one: a house, a studio, a single author. */
export interface Party {
  readonly id: string;
  readonly name: string;
  readonly atMs: number;
}

/** The parties that the archive knows. */
export interface Parties {
  add(given: { readonly name: string; readonly at: number }): Promise<Party>;
  get(id: string): Promise<Party | null>;
  list(): Promise<readonly Party[]>;
}

/** The table of parties. */
export function partiesIn(access: Access): Parties {
  return {
    add: ({ name, at }) =>
      access.write((database) => {
        const party = { id: newId(), name, atMs: at };
        database.run('INSERT INTO party (id, name, at_ms) VALUES (:id, :name, :atMs)', party);
        return party;
      }),
    get: (id) =>
      access.read((database) => {
        const row = database.one('SELECT * FROM party WHERE id = :id', { id });
        return row && partyOf(row);
      }),
    list: () => access.read((database) => database.all('SELECT * FROM party ORDER BY name').map(partyOf)),
  };
}

function partyOf(row: Row): Party {
  return { id: textIn(row, 'id'), name: textIn(row, 'name'), atMs: numberIn(row, 'at_ms') };
}
