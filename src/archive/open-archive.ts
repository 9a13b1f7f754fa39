import { archivePaths } from './archive-paths.ts';
import type { Blobs } from './blobs/index.ts';
import { openBlobFolder } from './blobs/index.ts';
import type { Catalogue } from './catalogue/index.ts';
import { openCatalogue } from './catalogue/index.ts';

/** An archive that is open: its blobs and its catalogue. */
export interface Archive {
  readonly blobs: Blobs;
  readonly catalogue: Catalogue;
  close(): void;
}

/**
 * Opens the archive in a folder, made where it is not there. What killed puts left unfinished is taken away; a blob that
 * was whole, but that a kill kept from the catalogue, is made known to it, because nothing is deleted.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} as `openCatalogue`
 */
export async function openArchive(folder: string, at: number): Promise<Archive> {
  const paths = archivePaths(folder);
  const blobs = await openBlobFolder(paths.blobs);
  const catalogue = await openCatalogue(paths.catalogue, at);
  try {
    for await (const { sha256, bytes } of blobs.list()) {
      if ((await catalogue.blobs.get(sha256)) === null) await catalogue.blobs.add({ sha256, bytes, at });
    }
    return { blobs, catalogue, close: () => catalogue.close() };
  } catch (error) {
    catalogue.close();
    throw error;
  }
}
