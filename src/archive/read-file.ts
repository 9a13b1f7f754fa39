import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { Limits, PageDescription, PageFacts, PageRaster, UnreadablePage } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import type { Pool } from '../reading/pool/index.ts';
import { fileIdentity } from '../reading/pool/index.ts';
import type { AssembledBook, BookToCheck, DescribedFile, KnownFile, PageSource } from './check-request.ts';
import type { KeptFacts } from './kept-facts.ts';
import type { DrawJob, DrawnPart, OpenedFile, PageJob, PageJobResult } from './page-jobs.ts';
import { getWorkersReady } from './page-workers.ts';

/** What is kept of a file that was described. */
interface Described {
  readonly pages: DescribedFile['pages'];
  readonly surroundings: string;
}

/** What every reading step needs. */
export interface ReadingTools {
  readonly pool: Pool;
  readonly kept: KeptFacts;
  readonly limits: Limits;
}

/** At most; a short file is shared out among all workers, since both files have to be open in each of them anyway. */
const PAGES_A_JOB = 64;

/** Runs one of the page jobs in the pool, before those that wait where it is to be `first`. */
export function runJob<J extends PageJob>(
  { pool, limits }: ReadingTools,
  job: J,
  pages = 1,
  first = false,
): Promise<PageJobResult[J['do']]> {
  return pool.run<PageJobResult[J['do']]>(job, { timeoutMs: limits.pageMs * Math.max(1, pages), first });
}

/**
 * Describes all pages of a file, or of a book made of several, unless that was done before. A page that cannot be read becomes an entry with its cause; a file that cannot be
 * opened is refused.
 *
 * @param onPages  told how many more pages are done
 * @throws {Refusal} unreadable, too-large, not-found, unavailable: the file as a whole
 */
export async function describeFile(
  tools: ReadingTools,
  book: BookToCheck,
  onPages: (done: number, total: number) => void,
): Promise<DescribedFile> {
  if (typeof book !== 'string' && 'sourceOf' in book) {
    onPages(book.pages.length, book.pages.length);
    return book;
  }
  if (typeof book !== 'string' && 'identity' in book) return describeAssembled(tools, book, onPages);
  const { path, sha256, bytes, pages, surroundings } =
    typeof book === 'string'
      ? await describeAtPath(tools, book, onPages)
      : { ...book, ...(await describePages(tools, book, onPages)) };
  return {
    identity: { sha256, bytes, pages: pages.length },
    pages,
    sourceOf: (pageNumber) => ({ path, sha256, bytes, pageNumber }),
    surroundingsOf: () => surroundings,
  };
}

/**
 * Hashes and describes what lies at a path. A file that was not seen there before will most likely have to be described:
 * that is begun while it is hashed, and thrown away where its hash turns out to be known.
 */
async function describeAtPath(
  tools: ReadingTools,
  path: string,
  onPages: (done: number, total: number) => void,
): Promise<KnownFile & Described> {
  const { kept } = tools;
  // a guess that only decides what is begun early; a file that cannot be looked at is told by hashing it
  const found = await stat(path).catch(() => null);
  const place = [resolve(path), found?.size, found?.mtimeMs];
  const isNew = (await kept.read<string>('seen', place)) === null;
  const early = isNew && found !== null ? readPages(tools, { path }, onPages) : null;
  // whether it failed is asked below, after what hashing says
  early?.catch(() => undefined);
  const file = { path, ...(await fileIdentity(path)) };
  await kept.write('seen', place, file.sha256);
  return { ...file, ...(await describePages(tools, file, onPages, early)) };
}

/** Each file is described once, also where the book only has some of its pages. */
async function describeAssembled(
  tools: ReadingTools,
  { identity, pages: sources }: AssembledBook,
  onPages: (done: number, total: number) => void,
): Promise<DescribedFile> {
  const files = new Map(sources.map((source) => [source.sha256, source]));
  const described = new Map<string, Described>();
  for (const [sha256, file] of files) {
    described.set(sha256, await describePages(tools, file, () => undefined));
    // of the book, whatever else the file has
    onPages(sources.filter((source) => source.sha256 === sha256).length, sources.length);
  }
  const pages = sources.map((source, index) => {
    const page = described.get(source.sha256)?.pages[source.pageNumber - 1];
    if (page === undefined) throw new Refusal('not-found', { what: `page ${source.pageNumber} of the file` });
    return { ...page, pageNumber: index + 1 };
  });
  const sourceOf = (pageNumber: number): PageSource => sources[pageNumber - 1]!;
  const surroundingsOf = (pageNumber: number): string => described.get(sourceOf(pageNumber).sha256)!.surroundings;
  return { identity, pages, sourceOf, surroundingsOf };
}

async function describePages(
  tools: ReadingTools,
  file: Pick<KnownFile, 'path' | 'sha256' | 'hashed'>,
  onPages: (done: number, total: number) => void,
  early: Promise<Described> | null = null,
): Promise<Described> {
  const known = await tools.kept.read<Described>('described', [file.sha256]);
  if (known !== null) {
    if (early === null) onPages(known.pages.length, known.pages.length);
    return known;
  }
  const described = await (early ?? readPages(tools, file, onPages));
  await tools.kept.write('described', [file.sha256], described);
  return described;
}

/** The pages of a file that was described before; null where it was not. */
export async function knownDescription(kept: KeptFacts, sha256: string): Promise<DescribedFile['pages'] | null> {
  return (await kept.read<Described>('described', [sha256]))?.pages ?? null;
}

/** A file whose pages are to be described. */
type ToRead = Pick<KnownFile, 'path' | 'hashed'>;

/** Describes the pages of a file by all workers. */
async function readPages(
  tools: ReadingTools,
  file: ToRead,
  onPages: (done: number, total: number) => void,
): Promise<Described> {
  const { limits } = tools;
  // While the file is still being opened every worker loads what it needs.
  void getWorkersReady(tools.pool, limits);
  const open = (): Promise<OpenedFile> => runJob(tools, { do: 'open', ...fileOf(file), limits });
  // By all workers at once where they have nothing to do: each of them needs it open.
  const others = tools.pool.standing().jobs === 0 ? tools.pool.size - 1 : 0;
  for (let other = 0; other < others; other++) open().catch(() => undefined);
  const { pages: count, surroundings } = await open();
  const rounds = Math.max(1, Math.ceil(count / (PAGES_A_JOB * tools.pool.size)));
  const share = Math.ceil(count / (rounds * tools.pool.size));
  const jobs: Promise<readonly (PageDescription | UnreadablePage)[]>[] = [];
  for (let first = 1; first <= count; first += share) {
    const last = Math.min(count, first + share - 1);
    jobs.push(
      describeRange(tools, file, first, last).then((pages) => {
        onPages(pages.length, count);
        return pages;
      }),
    );
  }
  return { pages: (await Promise.all(jobs)).flat(), surroundings };
}

function fileOf({ path, hashed = [] }: ToRead): Required<ToRead> {
  return { path, hashed };
}

/** A range whose worker died or ran out of time is tried page by page, so that one bad page costs only itself. */
async function describeRange(
  tools: ReadingTools,
  file: ToRead,
  first: number,
  last: number,
): Promise<readonly (PageDescription | UnreadablePage)[]> {
  const { limits } = tools;
  try {
    return await runJob(tools, { do: 'describe', ...fileOf(file), first, last, limits });
  } catch (error) {
    if (first === last) return [{ pageNumber: first, unreadable: causeOf(error) }];
  }
  const pages: (PageDescription | UnreadablePage)[] = [];
  for (let page = first; page <= last; page++) pages.push(...(await describeRange(tools, file, page, page)));
  return pages;
}

/** All that a page's looks depend on beside the resolution: pages of one file or of several that have it in common look the same. */
export function looksOf(file: DescribedFile, { pageNumber, contentHash }: PageDescription): readonly string[] {
  return [contentHash, file.surroundingsOf(pageNumber)];
}

/**
 * Pages that are drawn at this moment: whoever wants the same one waits for it, and draws it where that failed, since the
 * check that it was drawn for may have ended.
 */
const inHand = new WeakMap<Pool, Map<string, Promise<DrawnPart>>>();

/**
 * Draws one described page and adds what is seen on it. What was seen of a page of equal content in another file, whatever
 * its number and its title, is taken instead.
 *
 * @param rasterPath  where its raster is left, unless it was drawn for somebody else; null leaves none
 * @returns an entry with the cause where it cannot be drawn
 */
export async function drawFacts(
  tools: ReadingTools,
  file: DescribedFile,
  page: PageDescription,
  { ppi, rasterPath, shelf = null }: Pick<DrawJob, 'ppi' | 'rasterPath' | 'shelf'>,
): Promise<PageFacts | UnreadablePage> {
  const { kept, limits } = tools;
  const { path, pageNumber } = file.sourceOf(page.pageNumber);
  const terms = drawnTerms(file, page, ppi);
  const known = await kept.read<DrawnPart>('drawn', terms);
  if (known !== null) return { ...page, ...known };
  const draw = async (): Promise<DrawnPart> => {
    const drawn = await runJob(tools, { do: 'draw', path, pageNumber, ppi, rasterPath, limits, shelf });
    await kept.write('drawn', terms, drawn);
    return drawn;
  };
  try {
    return { ...page, ...(await once(tools.pool, JSON.stringify(terms), draw)) };
  } catch (error) {
    return { pageNumber: page.pageNumber, unreadable: causeOf(error) };
  }
}

/** All facts of a described page, where it was drawn before. */
export async function knownFacts(
  { kept }: ReadingTools,
  file: DescribedFile,
  page: PageDescription,
  ppi: number,
): Promise<PageFacts | null> {
  const known = await kept.read<DrawnPart>('drawn', drawnTerms(file, page, ppi));
  return known === null ? null : { ...page, ...known };
}

/** Whether `knownFacts` has most likely something to give, without reading it. */
export function hasKnownFacts(
  { kept }: ReadingTools,
  file: DescribedFile,
  page: PageDescription,
  ppi: number,
): boolean {
  return kept.has('drawn', drawnTerms(file, page, ppi));
}

/** Keeps what was seen of a page that was drawn in another way than by `drawFacts`. */
export async function keepDrawn(
  { kept }: ReadingTools,
  file: DescribedFile,
  page: PageDescription,
  ppi: number,
  drawn: DrawnPart,
): Promise<void> {
  await kept.write('drawn', drawnTerms(file, page, ppi), drawn);
}

function drawnTerms(file: DescribedFile, page: PageDescription, ppi: number): readonly unknown[] {
  return [...looksOf(file, page), ppi];
}

async function once(pool: Pool, key: string, draw: () => Promise<DrawnPart>): Promise<DrawnPart> {
  const drawings = inHand.get(pool) ?? new Map<string, Promise<DrawnPart>>();
  inHand.set(pool, drawings);
  for (let begun = drawings.get(key); begun !== undefined; begun = drawings.get(key)) {
    const drawn = await begun.catch(() => null);
    if (drawn !== null) return drawn;
  }
  const drawing = draw().finally(() => drawings.delete(key));
  drawings.set(key, drawing);
  return drawing;
}

/** Draws a page for people to look at. */
export function drawSource(
  tools: ReadingTools,
  { path, pageNumber }: Pick<PageSource, 'path' | 'pageNumber'>,
  ppi: number,
): Promise<PageRaster> {
  return runJob(tools, { do: 'picture', path, pageNumber, ppi, limits: tools.limits });
}

function causeOf(error: unknown): string {
  if (error instanceof Refusal && error.kind === 'unreadable') return (error as Refusal<'unreadable'>).details.reason;
  return error instanceof Error ? error.message : String(error);
}
