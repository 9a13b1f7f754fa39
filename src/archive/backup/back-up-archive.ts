import { rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Refusal } from '../../model/index.ts';
import { archivePaths } from '../archive-paths.ts';
import { blobsIn, openBlobFolder, type Blobs } from '../blobs/index.ts';
import { backUpDatabase, readCatalogue, type KnownBlob, type Tables } from '../catalogue/index.ts';
import { holdFolder } from '../hold-folder.ts';
import { requireArchive } from '../require-archive.ts';
import { syncFolder } from '../sync-folder.ts';
import { copyKeys } from './copy-keys.ts';
import { requireEarlierCopy, requireOutside } from './earlier-copy.ts';

/** Files that the database keeps beside its own. */
const BESIDE = ['-wal', '-shm'];

/** What a backup did. */
export interface BackedUp {
  /** Blobs that were copied now, and their bytes. */
  readonly copied: number;
  readonly bytes: number;
  /** Blobs that the copy had from before. */
  readonly there: number;
  /** Of the log. */
  readonly entries: number;
  /** Blobs that the archive counts on and that could not be copied, with the reason. */
  readonly damaged: readonly { readonly sha256: string; readonly reason: string }[];
}

/** How a backup is made. */
export interface BackupOrder {
  /** The archive, which may be in use. */
  readonly folder: string;
  /** Where the copy is or will be. */
  readonly copy: string;
  /** Milliseconds since 1970. */
  readonly at: number;
  /** Told after each blob that is copied. */
  readonly onBlob?: (done: { readonly copied: number; readonly bytes: number }) => void;
}

/**
 * Copies an archive while it is used: the catalogue as it stands at one moment, then every blob that it counts on and the
 * copy has not, each checked while it is read, and the keys. All of it is on disk before the copied catalogue takes the
 * place of the last one, so that a backup that is cut off leaves the copy as it was.
 *
 * @throws {Refusal} not-found: there is no archive in the folder
 * @throws {Refusal} malformed: the copy would lie in the archive, or the archive in the copy
 * @throws {Refusal} unproven: the copy is of another archive, or of a later state of this one
 * @throws {Refusal} unavailable: the copy is in use, the keys are gone, or a disk fails
 * @throws {Refusal} unreadable: the catalogue or the keys are damaged
 */
export async function backUpArchive({ folder, copy, at, onBlob = () => undefined }: BackupOrder): Promise<BackedUp> {
  const [from, to] = [archivePaths(folder), archivePaths(copy)];
  await requireArchive(folder);
  await requireOutside(folder, copy);
  const hold = await holdFolder(copy, at);
  try {
    const coming = `${to.catalogue}.coming`;
    await removeDatabase(coming);
    await requireEarlierCopy(from.catalogue, to.catalogue);
    await backUpDatabase(from.catalogue, coming);
    await copyKeys(from.keys, to.keys);
    const done = await copyWhatIsKnown(coming, blobsIn(from.blobs), await openBlobFolder(to.blobs), onBlob);
    await putInPlace(coming, to.catalogue);
    return done;
  } finally {
    await hold.release();
  }
}

async function copyWhatIsKnown(
  catalogueFile: string,
  from: Blobs,
  to: Blobs,
  onBlob: NonNullable<BackupOrder['onBlob']>,
): Promise<BackedUp> {
  const catalogue = readCatalogue(catalogueFile);
  const done = { copied: 0, bytes: 0, there: 0 };
  const damaged: BackedUp['damaged'][number][] = [];
  try {
    for await (const { sha256, bytes } of allBlobs(catalogue)) {
      if ((await to.sizeOf(sha256)) === bytes) {
        done.there += 1;
        continue;
      }
      try {
        await to.put(from.read(sha256), { sha256 });
      } catch (error) {
        damaged.push({ sha256, reason: whyNotRead(error) });
        continue;
      }
      done.copied += 1;
      done.bytes += bytes;
      onBlob({ copied: done.copied, bytes: done.bytes });
    }
    return { ...done, entries: await catalogue.log.size(), damaged };
  } finally {
    catalogue.close();
  }
}

async function* allBlobs({ blobs }: Pick<Tables, 'blobs'>): AsyncGenerator<KnownBlob> {
  for (let after: string | undefined = ''; after !== undefined;) {
    const some: readonly KnownBlob[] = await blobs.list({ after, most: 1000 });
    yield* some;
    after = some.at(-1)?.sha256;
  }
}

/** A blob that is gone or harmed keeps no other from being copied; what else goes wrong ends the backup. */
function whyNotRead(error: unknown): string {
  if (error instanceof Refusal) {
    const refusal = error as Refusal;
    if (refusal.kind === 'not-found') return 'it is missing';
    if (refusal.kind === 'unreadable') return (refusal as Refusal<'unreadable'>).details.reason;
  }
  throw error;
}

/** Gives the copied catalogue its name. What a reader or a killed service left beside the last one belongs to that one. */
async function putInPlace(coming: string, file: string): Promise<void> {
  for (const ending of BESIDE) {
    await rm(`${coming}${ending}`, { force: true });
    await rm(`${file}${ending}`, { force: true });
  }
  await rename(coming, file);
  await syncFolder(dirname(file));
}

async function removeDatabase(file: string): Promise<void> {
  for (const ending of ['', ...BESIDE]) await rm(`${file}${ending}`, { force: true });
}
