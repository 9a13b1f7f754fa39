import type { Catalogue } from './catalogue.ts';
import { tablesOf } from './catalogue.ts';
import { openDatabase } from './database.ts';
import { readMigrations, requireMigrated } from './migrations.ts';

/**
 * Opens a catalogue to look into it, also beside a service that uses it: nothing is changed, nothing can be.
 *
 * @throws {Refusal} as `openDatabase` and `requireMigrated`
 */
export function readCatalogue(file: string): Pick<Catalogue, 'blobs' | 'close'> {
  const database = openDatabase(file, { readOnly: true });
  try {
    requireMigrated(database, readMigrations());
  } catch (error) {
    database.close();
    throw error;
  }
  const { blobs } = tablesOf({
    read: async (look) => look(database),
    write: () => Promise.reject(new Error('this catalogue is only looked into')),
  });
  return { blobs, close: () => database.close() };
}
