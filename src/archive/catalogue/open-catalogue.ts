import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { syncFolder } from '../sync-folder.ts';
import { accessTo } from './access.ts';
import { backUpDatabase } from './back-up.ts';
import type { Catalogue } from './catalogue.ts';
import { tablesOf } from './catalogue.ts';
import { openDatabase } from './database.ts';
import { migrate, readMigrations } from './migrations.ts';

/**
 * Opens the catalogue in a file, made where it is not there, and brings it to the newest form.
 *
 * @param file  lies on a disk of this machine: its locks do not reach over a network
 * @param at  milliseconds since 1970, for the record of what is applied
 * @throws {Refusal} as `openDatabase` and `migrate`
 */
export async function openCatalogue(file: string, at: number): Promise<Catalogue> {
  await mkdir(dirname(file), { recursive: true });
  const writer = openDatabase(file, { readOnly: false });
  try {
    migrate(writer, readMigrations(), at);
    await syncFolder(dirname(file));
    const reader = openDatabase(file, { readOnly: true });
    const access = accessTo({ writer, reader });
    return {
      ...tablesOf(access),
      together: (work) => access.together((inside) => work(tablesOf(inside))),
      backUp: (copy) => backUpDatabase(file, copy),
      close() {
        reader.close();
        writer.close();
      },
    };
  } catch (error) {
    writer.close();
    throw error;
  }
}
