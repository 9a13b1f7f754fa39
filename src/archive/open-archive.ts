import { createHash } from 'node:crypto';
import { archivePaths } from './archive-paths.ts';
import { readArrivals, type Arrivals } from './arriving/arrivals.ts';
import type { Blobs } from './blobs/index.ts';
import { openBlobFolder } from './blobs/index.ts';
import type { Catalogue, KeptIdentity } from './catalogue/index.ts';
import { openCatalogue } from './catalogue/index.ts';
import { openIdentity, type ArchiveIdentity } from './identity/open-identity.ts';
import { recorded, type Recording } from './record/recorded.ts';

/** An archive that is open: its blobs, its catalogue, and as whom it signs. */
export interface Archive {
  readonly blobs: Blobs;
  readonly catalogue: Catalogue;
  readonly identity: ArchiveIdentity;
  /** What is read back while it arrives. */
  readonly arrivals: Arrivals;
  close(): void;
}

/**
 * Opens the archive in a folder, made where it is not there. What killed puts left unfinished is taken away; a blob that
 * was whole, but that a kill kept from the catalogue, is made known to it, because nothing is deleted. A new archive makes
 * its keys and begins its log with an entry that names them.
 *
 * @param at  milliseconds since 1970
 * @param options  `origin` names the log of a new archive; one that is there keeps its name
 * @throws {Refusal} as `openCatalogue` and `openIdentity`
 */
export async function openArchive(
  folder: string,
  at: number,
  options: { readonly origin?: string } = {},
): Promise<Archive> {
  const paths = archivePaths(folder);
  const arrivals = readArrivals();
  const blobs = await openBlobFolder(paths.blobs, arrivals);
  const catalogue = await openCatalogue(paths.catalogue, at);
  try {
    for await (const { sha256, bytes } of blobs.list()) {
      if ((await catalogue.blobs.get(sha256)) === null) await catalogue.blobs.add({ sha256, bytes, at });
    }
    const { identity, fresh } = await openIdentity(paths.keys, catalogue, { origin: options.origin, at });
    if (fresh !== null) await beginLog({ catalogue, identity }, fresh, at);
    const close = (): void => {
      arrivals.close();
      catalogue.close();
    };
    return { blobs, catalogue, identity, arrivals, close };
  } catch (error) {
    catalogue.close();
    throw error;
  }
}

/** The log's first entry: whose it is, and with what the archive seals. Another process may have been quicker. */
async function beginLog(archive: Recording, fresh: KeptIdentity, at: number): Promise<void> {
  await recorded(archive, at, async (tables, log) => {
    if ((await tables.identity.get()) !== null) return;
    await tables.identity.set({ ...fresh, at });
    const { origin, verifierKey, sealCertificate } = fresh;
    const certificate = { what: 'certificate', id: 'seal', sha256: hashOf(sealCertificate) };
    const key = { what: 'verifier-key', id: origin, sha256: hashOf(new TextEncoder().encode(verifierKey)) };
    await log({ kind: 'archive-opened', titleId: null, by: null, subjects: [key, certificate] });
  });
}

function hashOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
