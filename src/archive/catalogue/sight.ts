import type { Access } from './access.ts';
import { numberIn, textIn, wordIn } from './row.ts';

/** What a party is to a title: one of its two sides, or somebody who was given sight of it. */
export type Standing = 'publisher' | 'printer' | 'sight';
const STANDINGS: readonly Standing[] = ['publisher', 'printer', 'sight'];

/** Sight given or taken, for the record. */
export interface SightChange {
  readonly partyId: string;
  readonly change: 'given' | 'taken';
  readonly byPersonId: string;
  readonly atMs: number;
}

interface SightOrder {
  readonly titleId: string;
  readonly partyId: string;
  readonly byPersonId: string;
  readonly at: number;
}

/** Who sees which title: the one place that decides it. */
export interface Sight {
  /** Null where the party may not even know that there is such a title, or where there is none. */
  standing(titleId: string, partyId: string): Promise<Standing | null>;
  /** Everybody who sees it now. */
  parties(titleId: string): Promise<readonly { readonly partyId: string; readonly standing: Standing }[]>;
  give(order: SightOrder): Promise<void>;
  take(order: SightOrder): Promise<void>;
  changes(titleId: string): Promise<readonly SightChange[]>;
}

/** The table of sight given and taken, and the view of what holds. */
export function sightIn(access: Access): Sight {
  const note = (order: SightOrder, change: 'given' | 'taken'): Promise<void> =>
    access.write(
      (database) =>
        void database.run(
          `INSERT INTO sight_change (title_id, party_id, change, by_person_id, at_ms)
           VALUES (:titleId, :partyId, :change, :byPersonId, :at)`,
          { ...order, change },
        ),
    );
  return {
    standing: (titleId, partyId) =>
      access.read((database) => {
        const row = database.one('SELECT role FROM standing WHERE title_id = :titleId AND party_id = :partyId', {
          titleId,
          partyId,
        });
        return row && wordIn(row, 'role', STANDINGS);
      }),
    parties: (titleId) =>
      access.read((database) =>
        database
          .all('SELECT party_id, role FROM standing WHERE title_id = :titleId', { titleId })
          .map((row) => ({ partyId: textIn(row, 'party_id'), standing: wordIn(row, 'role', STANDINGS) })),
      ),
    give: (order) => note(order, 'given'),
    take: (order) => note(order, 'taken'),
    changes: (titleId) =>
      access.read((database) =>
        database.all('SELECT * FROM sight_change WHERE title_id = :titleId ORDER BY seq', { titleId }).map((row) => ({
          partyId: textIn(row, 'party_id'),
          change: wordIn(row, 'change', ['given', 'taken']),
          byPersonId: textIn(row, 'by_person_id'),
          atMs: numberIn(row, 'at_ms'),
        })),
      ),
  };
}
