import { Refusal } from '../../model/index.ts';
import type { SentFile, Tables } from '../catalogue/index.ts';

/** A file by its id. @throws {Refusal} not-found: there is none */
export async function fileOf(tables: Pick<Tables, 'files'>, fileId: string): Promise<SentFile> {
  const file = await tables.files.get(fileId);
  if (file === null) throw new Refusal('not-found', { what: 'the file' });
  return file;
}
