import type { FileIdentity, Limits, PageDescription, PageFacts, UnreadablePage } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import type { Pool } from '../reading/pool/index.ts';
import { fileIdentity } from '../reading/pool/index.ts';
import type { KeptFacts } from './kept-facts.ts';
import type { DrawnPart, PageJob, PageJobResult } from './page-jobs.ts';

/** A file as its objects describe it; pages that could not be read carry the cause. */
export interface DescribedFile {
  readonly path: string;
  readonly identity: FileIdentity;
  readonly pages: readonly (PageDescription | UnreadablePage)[];
}

/** What every reading step needs. */
export interface ReadingTools {
  readonly pool: Pool;
  readonly kept: KeptFacts;
  readonly limits: Limits;
}

/** At most; a short file is shared out among all workers, since both files have to be open in each of them anyway. */
const PAGES_A_JOB = 64;
const alreadyReady = new WeakSet<Pool>();

/** Lets every worker load what it needs while the files are still being hashed and opened. */
function getWorkersReady(tools: ReadingTools): void {
  const { pool } = tools;
  if (alreadyReady.has(pool)) return;
  alreadyReady.add(pool);
  // Where this fails, the job that needs it fails with its own cause.
  for (let n = 0; n < pool.size; n++) runJob(tools, { do: 'get-ready' }).catch(() => undefined);
}

/** Runs one of the page jobs in the pool. */
export function runJob<J extends PageJob>(
  { pool, limits }: ReadingTools,
  job: J,
  pages = 1,
): Promise<PageJobResult[J['do']]> {
  return pool.run<PageJobResult[J['do']]>(job, { timeoutMs: limits.pageMs * Math.max(1, pages) });
}

/**
 * Describes all pages of a file. A page that cannot be read becomes an entry with its cause; a file that cannot be
 * opened is refused.
 *
 * @param onPages  told how many more pages are done
 * @throws {Refusal} unreadable, too-large, not-found, unavailable: the file as a whole
 */
export async function describeFile(
  tools: ReadingTools,
  path: string,
  onPages: (done: number, total: number) => void,
): Promise<DescribedFile> {
  const { kept, limits } = tools;
  const { sha256, bytes } = await fileIdentity(path);
  const known = await kept.read<(PageDescription | UnreadablePage)[]>('described', [sha256]);
  if (known !== null) {
    onPages(known.length, known.length);
    return { path, identity: { sha256, bytes, pages: known.length }, pages: known };
  }
  getWorkersReady(tools);
  const count = await runJob(tools, { do: 'count', path, limits });
  const share = Math.min(PAGES_A_JOB, Math.ceil(count / tools.pool.size));
  const jobs: Promise<readonly (PageDescription | UnreadablePage)[]>[] = [];
  for (let first = 1; first <= count; first += share) {
    const last = Math.min(count, first + share - 1);
    jobs.push(
      describeRange(tools, path, first, last).then((pages) => {
        onPages(pages.length, count);
        return pages;
      }),
    );
  }
  const pages = (await Promise.all(jobs)).flat();
  await kept.write('described', [sha256], pages);
  return { path, identity: { sha256, bytes, pages: count }, pages };
}

/** A range whose worker died or ran out of time is tried page by page, so that one bad page costs only itself. */
async function describeRange(
  tools: ReadingTools,
  path: string,
  first: number,
  last: number,
): Promise<readonly (PageDescription | UnreadablePage)[]> {
  const { limits } = tools;
  try {
    return await runJob(tools, { do: 'describe', path, first, last, limits });
  } catch (error) {
    if (first === last) return [{ pageNumber: first, unreadable: causeOf(error) }];
  }
  const pages: (PageDescription | UnreadablePage)[] = [];
  for (let page = first; page <= last; page++) pages.push(...(await describeRange(tools, path, page, page)));
  return pages;
}

/**
 * Draws one described page and adds what is seen on it.
 *
 * @param rasterPath  where its raster is left
 * @returns an entry with the cause where it cannot be drawn
 */
export async function drawFacts(
  tools: ReadingTools,
  file: DescribedFile,
  page: PageDescription,
  { ppi, rasterPath }: { readonly ppi: number; readonly rasterPath: string },
): Promise<PageFacts | UnreadablePage> {
  const { kept, limits } = tools;
  const { pageNumber } = page;
  const terms = [file.identity.sha256, pageNumber, ppi];
  const known = await kept.read<DrawnPart>('drawn', terms);
  if (known !== null) return { ...page, ...known };
  try {
    const drawn = await runJob(tools, { do: 'draw', path: file.path, pageNumber, ppi, rasterPath, limits });
    await kept.write('drawn', terms, drawn);
    return { ...page, ...drawn };
  } catch (error) {
    return { pageNumber, unreadable: causeOf(error) };
  }
}

function causeOf(error: unknown): string {
  if (error instanceof Refusal && error.kind === 'unreadable') return (error as Refusal<'unreadable'>).details.reason;
  return error instanceof Error ? error.message : String(error);
}
