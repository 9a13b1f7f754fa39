import { access } from 'node:fs/promises';
import { Refusal } from '../model/index.ts';
import { archivePaths } from './archive-paths.ts';

/** @throws {Refusal} not-found: there is no archive in the folder */
export async function requireArchive(folder: string): Promise<void> {
  const { catalogue, blobs } = archivePaths(folder);
  for (const path of [catalogue, blobs]) {
    try {
      await access(path);
    } catch (error) {
      throw new Refusal('not-found', { what: `${folder}: an archive` }, error);
    }
  }
}
