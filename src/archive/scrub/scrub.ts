import { Refusal } from '../../model/index.ts';
import { archivePaths } from '../archive-paths.ts';
import type { Blobs } from '../blobs/index.ts';
import { blobsIn, strangersIn } from '../blobs/index.ts';
import type { Catalogue } from '../catalogue/index.ts';
import { lookOver, readCatalogue } from '../catalogue/index.ts';
import { examineLog } from '../record/examine-log.ts';
import { requireArchive } from '../require-archive.ts';

/** What re-reading a whole archive found. */
export interface Scrubbing {
  /** Read to their end, the damaged ones too. */
  readonly blobs: number;
  readonly bytes: number;
  /** Blobs whose bytes are not what their name or the catalogue says, with the reason. */
  readonly damaged: readonly { readonly sha256: string; readonly reason: string }[];
  /** Blobs that the catalogue counts on and that are not there. */
  readonly missing: readonly string[];
  /** Whole blobs that the catalogue does not know, as a kill between two steps leaves them; the next start knows them. */
  readonly unknown: readonly string[];
  /** Unfinished puts: under way, or cleared at the next start. */
  readonly arriving: readonly string[];
  /** Damaged bytes that were replaced by good ones. */
  readonly setAside: readonly string[];
  /** What nobody here has put among the blobs. */
  readonly foreign: readonly string[];
  /** Where the catalogue does not hold together, in its own words. */
  readonly catalogueFaults: readonly string[];
  /** Entries of the log, each hashed again. */
  readonly entries: number;
  /** Where entries, the tree over them, heads, statements and signatures do not hold, in words. */
  readonly logFaults: readonly string[];
}

/** Whether an archive has everything that it should have, unharmed. */
export function isSound({ damaged, missing, foreign, catalogueFaults, logFaults }: Scrubbing): boolean {
  return [damaged, missing, foreign, catalogueFaults, logFaults].every((faults) => faults.length === 0);
}

/**
 * Reads every blob of an archive again and compares it with its name and with the catalogue, and makes every hash of its
 * log again, also beside a service that runs. Nothing is mended and nothing is changed.
 *
 * @param onBlob  told after each one
 * @throws {Refusal} not-found: there is no archive in the folder
 * @throws {Refusal} as `readCatalogue`
 */
export async function scrubArchive(
  folder: string,
  onBlob: (done: { readonly blobs: number; readonly bytes: number }) => void = () => undefined,
): Promise<Scrubbing> {
  const paths = archivePaths(folder);
  await requireArchive(folder);
  const catalogueFaults = lookOver(paths.catalogue);
  const catalogue = readCatalogue(paths.catalogue);
  try {
    const blobs = blobsIn(paths.blobs);
    const read = await readEach(blobs, catalogue.blobs, onBlob);
    const missing = await findMissing(blobs, catalogue.blobs);
    const { entries, faults: logFaults } = await examineLog(catalogue);
    return { ...read, missing, ...(await strangersIn(paths.blobs)), catalogueFaults, entries, logFaults };
  } finally {
    catalogue.close();
  }
}

async function readEach(
  blobs: Blobs,
  known: Catalogue['blobs'],
  onBlob: (done: { readonly blobs: number; readonly bytes: number }) => void,
): Promise<Pick<Scrubbing, 'blobs' | 'bytes' | 'damaged' | 'unknown'>> {
  const done = { blobs: 0, bytes: 0 };
  const [damaged, unknown]: [Scrubbing['damaged'][number][], string[]] = [[], []];
  for await (const { sha256, bytes } of blobs.list()) {
    const expected = await known.get(sha256);
    const reason = (await whyDamaged(blobs, sha256)) ?? whyOtherSize(bytes, expected?.bytes ?? bytes);
    if (reason !== null) damaged.push({ sha256, reason });
    else if (expected === null) unknown.push(sha256);
    done.blobs += 1;
    done.bytes += bytes;
    onBlob({ ...done });
  }
  return { ...done, damaged, unknown };
}

async function whyDamaged(blobs: Blobs, sha256: string): Promise<string | null> {
  try {
    for await (const _piece of blobs.read(sha256));
    return null;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const refusal = error as Refusal;
    // Gone since it was listed: then it is among the missing.
    if (refusal.kind === 'not-found') return null;
    if (refusal.kind === 'unreadable') return (refusal as Refusal<'unreadable'>).details.reason;
    throw error;
  }
}

function whyOtherSize(bytes: number, expected: number): string | null {
  return bytes === expected ? null : `the catalogue has ${expected} bytes, ${bytes} are there`;
}

async function findMissing(blobs: Blobs, known: Catalogue['blobs']): Promise<readonly string[]> {
  const missing: string[] = [];
  for (let after: string | undefined = ''; after !== undefined;) {
    const some = await known.list({ after, most: 1000 });
    for (const { sha256 } of some) if ((await blobs.sizeOf(sha256)) === null) missing.push(sha256);
    after = some.at(-1)?.sha256;
  }
  return missing;
}
