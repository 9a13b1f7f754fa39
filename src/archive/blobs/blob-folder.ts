import { chmod, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Refusal } from '../../model/index.ts';
import { NO_ARRIVALS, type Arrivals } from '../arriving/arrivals.ts';
import { syncFolder } from '../sync-folder.ts';
import { clearArriving, giveArrivingNameBack, takeArrivingName } from './arriving.ts';
import { isBlobName, requireBlobName } from './blob-name.ts';
import type { Blobs, ByteRange, KeptBlob, ListedBlob, PutTerms } from './blobs.ts';
import { asDiskRefusal } from './disk-refusal.ts';
import { readChecked, readPieces } from './read-checked.ts';
import { writeArriving } from './write-arriving.ts';

/** Folders beside those of two digits. */
const ARRIVING = 'arriving';
const SET_ASIDE = 'damaged';

/**
 * Blobs as files: `ab/abcd…` under the folder, `arriving/` for what is not whole yet, `damaged/` for bytes that stopped
 * being what their name says and were sent again. A put is: write under a passing name, `fsync`, make the folder of two
 * digits, rename, `fsync` both folders. What is not covered: a disk that says it has written and has not.
 *
 * @param arrivals  told of what is written: what was read back by it while it arrived is checked when it is lent first
 * @returns the blobs, after what killed puts left behind was taken away, where this process may write
 */
export async function openBlobFolder(folder: string, arrivals: Arrivals = NO_ARRIVALS): Promise<Blobs> {
  await mkdir(join(folder, ARRIVING), { recursive: true });
  await clearArriving(join(folder, ARRIVING));
  await syncFolder(folder);
  await syncFolder(dirname(folder));
  return blobsIn(folder, arrivals);
}

/** The same for whoever only reads: nothing is made and nothing taken away. */
export function blobsIn(folder: string, arrivals: Arrivals = NO_ARRIVALS): Blobs {
  const pathOf = (sha256: string): string => join(folder, sha256.slice(0, 2), requireBlobName(sha256));
  return {
    put: (stream, terms = {}) => put({ folder, pathOf, arrivals }, stream, terms),
    adopt: (path, sha256) => adopt({ folder, pathOf, arrivals }, path, sha256),
    sizeOf: async (sha256) => sizeOf(pathOf(sha256)),
    async *read(sha256) {
      yield* readChecked(pathOf(sha256), sha256);
    },
    async *readRange(sha256, range) {
      yield* readRange(pathOf(sha256), sha256, range);
    },
    async lend(sha256, use) {
      const path = pathOf(sha256);
      if (!(await arrivals.holds(sha256, path))) await readToTheEnd(readChecked(path, sha256));
      return use(path);
    },
    lendUnchecked: async (sha256, use) => use(await there(pathOf(sha256), sha256)),
    list: () => list(folder),
  };
}

/** Where blobs are kept, and who reads behind what arrives. */
interface Shelves {
  readonly folder: string;
  readonly pathOf: (sha256: string) => string;
  readonly arrivals: Arrivals;
}

async function put(
  { folder, pathOf, arrivals }: Shelves,
  stream: AsyncIterable<Uint8Array>,
  terms: PutTerms,
): Promise<KeptBlob> {
  const name = takeArrivingName();
  const passing = join(folder, ARRIVING, name);
  try {
    const file = await open(passing, 'wx', 0o444);
    let arrived: { readonly sha256: string; readonly bytes: number };
    try {
      arrived = await writeArriving(file, stream, terms, (bytes) => arrivals.wrote(passing, bytes));
    } finally {
      await file.close();
    }
    const isNew = await settle(folder, passing, pathOf(arrived.sha256), arrived.sha256);
    if (isNew) arrivals.settled(passing, arrived);
    return { ...arrived, isNew };
  } catch (error) {
    throw asDiskRefusal(error, 'the blobs');
  } finally {
    // Gone already after a rename; otherwise it was refused or is here twice.
    await rm(passing, { force: true });
    arrivals.forget(passing);
    giveArrivingNameBack(name);
  }
}

async function adopt({ folder, pathOf, arrivals }: Shelves, passing: string, sha256: string): Promise<KeptBlob> {
  try {
    const { size: bytes } = await stat(passing);
    await chmod(passing, 0o444);
    const isNew = await settle(folder, passing, pathOf(sha256), sha256);
    if (isNew) arrivals.settled(passing, { sha256, bytes });
    await rm(passing, { force: true });
    return { sha256, bytes, isNew };
  } catch (error) {
    throw asDiskRefusal(error, 'the blobs');
  } finally {
    arrivals.forget(passing);
  }
}

/** Gives the passing file its name, unless the same bytes bear it already and hold. */
async function settle(folder: string, passing: string, path: string, sha256: string): Promise<boolean> {
  const shelf = dirname(path);
  await mkdir(shelf, { recursive: true });
  const isKept = (await sizeOf(path)) !== null && (await holds(folder, path, sha256));
  if (!isKept) await rename(passing, path);
  // Also where it was kept: whoever renamed it may not have come to this line yet.
  await syncFolder(shelf);
  await syncFolder(folder);
  return !isKept;
}

/** Whether the bytes under a name are still its own; where not, they are set aside and the name is free. */
async function holds(folder: string, path: string, sha256: string): Promise<boolean> {
  try {
    await readToTheEnd(readChecked(path, sha256));
    return true;
  } catch (error) {
    if (!(error instanceof Refusal) || (error as Refusal).kind !== 'unreadable') throw error;
    const aside = join(folder, SET_ASIDE);
    await mkdir(aside, { recursive: true });
    await rename(path, join(aside, `${sha256}.${(await readdir(aside)).length + 1}`));
    await syncFolder(aside);
    return false;
  }
}

async function sizeOf(path: string): Promise<number | null> {
  try {
    const found = await stat(path);
    return found.isFile() ? found.size : null;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

/** The path of a blob that is there. */
async function there(path: string, sha256: string): Promise<string> {
  if ((await sizeOf(path)) === null) throw new Refusal('not-found', { what: `blob ${sha256}` });
  return path;
}

async function* readRange(path: string, sha256: string, { first, last }: ByteRange): AsyncGenerator<Uint8Array> {
  const bytes = await sizeOf(path);
  if (bytes === null) throw new Refusal('not-found', { what: `blob ${sha256}` });
  if (!(Number.isInteger(first) && Number.isInteger(last) && first >= 0 && first <= last && last < bytes)) {
    throw new Refusal('malformed', {
      pointer: 'range',
      expected: `within bytes 0 to ${bytes - 1}`,
      found: `${first} to ${last}`,
    });
  }
  yield* readPieces(path, sha256, { start: first, end: last });
}

async function* list(folder: string): AsyncGenerator<ListedBlob> {
  const shelves = (await readdir(folder)).filter((name) => /^[0-9a-f]{2}$/.test(name)).sort();
  for (const shelf of shelves) {
    for (const name of (await readdir(join(folder, shelf))).sort()) {
      const bytes = isBlobName(name) && name.startsWith(shelf) ? await sizeOf(join(folder, shelf, name)) : null;
      if (bytes !== null) yield { sha256: name, bytes };
    }
  }
}

async function readToTheEnd(stream: AsyncIterable<Uint8Array>): Promise<void> {
  for await (const _piece of stream);
}
