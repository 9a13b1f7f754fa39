import type { Tables } from './catalogue.ts';
import { tablesOf } from './catalogue.ts';
import { openDatabase } from './database.ts';
import { readMigrations, requireMigrated } from './migrations.ts';

/**
 * Opens a catalogue to look into it, also beside a service that uses it: nothing is changed, nothing can be.
 *
 * @param options  `isOlderFine`: it may lack what later migrations bring, and whoever reads that is thrown a bug
 * @throws {Refusal} as `openDatabase` and `requireMigrated`
 */
export function readCatalogue(
  file: string,
  options: { readonly isOlderFine?: boolean } = {},
): Tables & { close(): void } {
  const database = openDatabase(file, { readOnly: true });
  try {
    requireMigrated(database, readMigrations(), options);
  } catch (error) {
    database.close();
    throw error;
  }
  const tables = tablesOf({
    read: async (look) => look(database),
    write: () => Promise.reject(new Error('this catalogue is only looked into')),
  });
  return { ...tables, close: () => database.close() };
}
