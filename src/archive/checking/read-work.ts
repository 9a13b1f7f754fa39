import { Refusal } from '../../model/index.ts';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import type { KeptPage, SentFile } from '../catalogue/index.ts';
import { bookPages, filesOfBook } from '../files/book-pages.ts';
import { lentFile } from '../files/lend-book.ts';
import { openKeptFacts } from '../kept-facts.ts';
import type { KnownFile } from '../check-request.ts';
import type { Archive } from '../open-archive.ts';
import { describeFile } from '../read-file.ts';
import { describePlates } from '../sheets/separations/describe-plates.ts';
import { platesFormOfBlob } from '../sheets/separations/plates-form.ts';
import type { Work } from '../workers/workers-order.ts';
import { askForComparisons } from './ask-for-comparisons.ts';
import type { CheckingOrder } from './checking-order.ts';
import { fileOf } from './file-of.ts';
import { keptPage } from './kept-page.ts';
import { untilAborted } from './until-aborted.ts';

/**
 * The work of a `read` job: the pages of a file, and of what it is laid over, described and kept; then the comparisons
 * that became possible are asked for.
 */
export function readWork(archive: Archive, order: CheckingOrder): Work {
  return async (job, { progress, signal }) => {
    const file = await fileOf(archive.catalogue, (job.order as { readonly fileId: string }).fileId);
    for (const one of (await filesOfBook(archive.catalogue, file)).toReversed()) {
      const reading = readOne(archive, order, one, (done, total) => progress('reading', done, total));
      try {
        await untilAborted(signal, reading);
        await bookPages(archive.catalogue, one);
      } catch (error) {
        throw one === file ? error : ofFileBelow(error, file, one);
      }
    }
    const pages = (await bookPages(archive.catalogue, file)) ?? [];
    signal.throwIfAborted();
    const { now, tolerances } = order;
    await archive.catalogue.together((tables) => askForComparisons(tables, file.partId, { tolerances, at: now() }));
    if (file.kind === 'dummy') order.onDummyRead?.(file.partId);
    return { result: { pages: pages.length, unreadable: pages.filter((page) => page.unreadable !== null).length } };
  };
}

/** Reads a file unless its bytes were read before, under whatever name. */
async function readOne(
  { blobs, catalogue, arrivals }: Archive,
  order: CheckingOrder,
  file: SentFile,
  onPages: (done: number, total: number) => void,
): Promise<readonly KeptPage[]> {
  const known = await catalogue.pages.ofBlob(file.sha256);
  const form = await platesFormOfBlob(blobs, file.sha256);
  if (form !== 'neither') requirePlates(file);
  if (known !== null) return known;
  const { pool, limits, factsFolder, recentFacts, now } = order;
  const tools = { pool, limits, kept: await openKeptFacts(factsFolder, RASTER_RENDERER, recentFacts) };
  const arrivedAt = async (path: string): Promise<KnownFile> => ({
    ...(await lentFile(blobs, file.sha256, path)),
    hashed: arrivals.dataOf(file.sha256),
  });
  let sum = 0;
  try {
    const count = (done: number, total: number): void => onPages((sum += done), total);
    const kept = await blobs.lend(file.sha256, async (path) =>
      form === 'neither'
        ? (await describeFile(tools, await arrivedAt(path), count)).pages.map(keptPage)
        : describePlates(tools, { path, name: file.name }, count),
    );
    await catalogue.pages.add({ sha256: file.sha256, pages: kept, at: now() });
    return kept;
  } catch (error) {
    throw underItsName(error, file, form !== 'neither');
  }
}

/** Plates have no pages that could be signed as a dummy or laid over another file's. */
function requirePlates({ name, kind, replaces }: SentFile): void {
  if (kind === 'plates-input' && replaces === null) return;
  throw new Refusal('unreadable', { file: name, reason: 'it is plates, which only a whole plates input can be' });
}

/** Pages that are laid over a file that cannot be used cannot be used either; the cause says which file is meant. */
function ofFileBelow(error: unknown, { name }: SentFile, below: SentFile): unknown {
  if (!(error instanceof Refusal) || (error as Refusal).kind === 'unavailable') return error;
  const which = below.revisionNumber === null ? below.name : `revision ${below.revisionNumber}`;
  const reason = `${which}, whose pages it replaces, cannot be used (${error.message})`;
  return new Refusal('unreadable', { file: name, reason }, error);
}

/** People know a file by the name under which it was sent, not by its hash. */
function underItsName(error: unknown, { name }: SentFile, isOfPlates: boolean): unknown {
  if (!(error instanceof Refusal)) return error;
  const refusal = error as Refusal;
  if (refusal.kind === 'unreadable') {
    const { details } = refusal as Refusal<'unreadable'>;
    // a plate within the file has a name of its own
    const reason = isOfPlates && details.file !== name ? `${details.file}: ${details.reason}` : details.reason;
    return new Refusal('unreadable', { ...details, reason, file: name }, error);
  }
  return error;
}
