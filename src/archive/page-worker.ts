import { stat } from 'node:fs/promises';
import { comparePages } from '../comparing/index.ts';
import type { DrawnFacts, PageComparison } from '../comparing/index.ts';
import type { Limits, PageDescription, PageRaster, UnreadablePage } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import { mayBePage } from '../plates/index.ts';
import type { Book } from '../reading/index.ts';
import type { HashedData } from '../reading/arriving/index.ts';
import {
  describePage,
  drawPage,
  getReadyToDraw,
  joinPages,
  openBook,
  placedForms,
  readPlateHeader,
  separatedPages,
  serveJobs,
  surroundingsHash,
  writeFoldedBook,
  writeInkPage,
} from '../reading/index.ts';
import type {
  BoxScalesJob,
  CompareJob,
  DescribeJob,
  DrawAndCompareJob,
  DrawJob,
  DrawnAndCompared,
  DrawnPart,
  OpenedFile,
  PageJob,
  PageOnDisk,
  PageToDraw,
  PictureJob,
} from './page-jobs.ts';
import type { Side } from './check-under-way.ts';
import { leaveDrawn, seenOn } from './leave-drawn.ts';
import { readRaster } from './raster-file.ts';
import { lookAtDummyPage } from './sheets/look-at-dummy-page.ts';
import { lookAtSide } from './sheets/look-at-side.ts';
import { listPlates, unpack } from './sheets/separations/unpack.ts';
import { readPlate, registerLooks, seePlates } from './sheets/separations/see-plates.ts';

/** Dummy, revision, and pages laid over it; a further file closes the one opened first. */
const MOST_OPEN = 3;
const open = new Map<string, Promise<Book>>();

/** A worker outlives a check, so a file is the one that was opened as long as nobody wrote to it or put another there. */
async function bookAt(path: string, limits: Limits, hashed?: readonly HashedData[]): Promise<Book> {
  const key = await stat(path).then(
    ({ dev, ino, size, mtimeMs }) => [path, dev, ino, size, mtimeMs].join(' '),
    () => path,
  );
  const known = open.get(key);
  if (known !== undefined) return known;
  const book = openBook(path, limits, hashed);
  open.set(key, book);
  book.catch(() => open.delete(key));
  const eldest = open.keys().next().value;
  if (open.size > MOST_OPEN && eldest !== undefined) {
    void open
      .get(eldest)
      ?.then((old) => old.close())
      .catch(() => undefined);
    open.delete(eldest);
  }
  return book;
}

function openFile(book: Book): OpenedFile {
  try {
    return { pages: book.pageCount, surroundings: surroundingsHash(book) };
  } catch {
    // Damaged layers or profile: what its pages look like is then known for this file alone.
    return { pages: book.pageCount, surroundings: book.sha256 };
  }
}

async function describe({
  path,
  hashed,
  first,
  last,
  limits,
}: DescribeJob): Promise<(PageDescription | UnreadablePage)[]> {
  const book = await bookAt(path, limits, hashed);
  const pages: (PageDescription | UnreadablePage)[] = [];
  for (let pageNumber = first; pageNumber <= last; pageNumber++) {
    try {
      pages.push(describePage(book, pageNumber));
    } catch (error) {
      pages.push({ pageNumber, unreadable: causeOf(error) });
    }
  }
  return pages;
}

function causeOf(error: unknown): string {
  if (error instanceof Refusal && error.kind === 'unreadable') return (error as Refusal<'unreadable'>).details.reason;
  return error instanceof Error ? error.message : String(error);
}

async function draw({ path, pageNumber, ppi, rasterPath, limits, shelf = null }: DrawJob): Promise<DrawnPart> {
  const drawn = await drawPage({ book: await bookAt(path, limits), pageNumber, ppi, limits, shelf });
  return leaveDrawn(drawn, rasterPath);
}

async function compare(job: CompareJob): Promise<PageComparison> {
  const pages = { dummy: await load(job.dummy, job), revision: await load(job.revision, job) };
  return compareLoaded(pages, job);
}

async function drawAndCompare(job: DrawAndCompareJob): Promise<DrawnAndCompared> {
  const [dummy, revision] = [await drawToCompare(job.dummy, job), await drawToCompare(job.revision, job)];
  const comparison = await compareLoaded(
    { dummy, revision },
    { ...job, dummy: { ...job.dummy, facts: dummy.facts }, revision: { ...job.revision, facts: revision.facts } },
  );
  return { dummy: dummy.seen, revision: revision.seen, comparison };
}

async function drawToCompare(
  { path, filePage: pageNumber, page }: PageToDraw,
  { tolerances, limits }: DrawAndCompareJob,
): Promise<DrawnFacts & { readonly seen: DrawnPart | null }> {
  const drawn = await drawPage({ book: await bookAt(path, limits), pageNumber, ppi: tolerances.analysisPpi, limits });
  const { raster } = drawn;
  if ('words' in page) return { facts: page, raster, seen: null };
  const seen = seenOn(drawn);
  return { facts: { ...page, ...seen }, raster, seen };
}

/** Two pages whose rasters are at hand; they are drawn finer where their type asks for it. */
async function compareLoaded(
  { dummy, revision }: { readonly dummy: DrawnFacts; readonly revision: DrawnFacts },
  job: Omit<CompareJob, 'do' | Side> & Readonly<Record<Side, Omit<PageOnDisk, 'rasterPath'>>>,
): Promise<PageComparison> {
  const { bookConversion, tolerances, limits } = job;
  const { coarse = {} } = job.revision;
  const rough = comparePages({ dummy, revision, fine: null, bookConversion, coarse }, tolerances);
  if (!rough.wantsFine) return rough;
  const fine = {
    dummy: await drawAt(job.dummy, tolerances.finePpi, limits),
    revision: await drawAt(job.revision, tolerances.finePpi, limits),
  };
  return comparePages({ dummy, revision, fine, bookConversion, coarse }, tolerances);
}

async function load(page: PageOnDisk, { tolerances, limits }: CompareJob): Promise<DrawnFacts> {
  const raster = (await readRaster(page.rasterPath)) ?? (await drawAt(page, tolerances.analysisPpi, limits));
  return { facts: page.facts, raster };
}

async function drawAt(
  { path, facts, filePage }: Omit<PageOnDisk, 'rasterPath'>,
  ppi: number,
  limits: Limits,
): Promise<PageRaster> {
  const pageNumber = filePage ?? facts.pageNumber;
  return (await drawPage({ book: await bookAt(path, limits), pageNumber, ppi, limits })).raster;
}

async function boxScales({ path, pageNumber, trimmed, side, limits }: BoxScalesJob): Promise<readonly number[]> {
  const book = await bookAt(path, limits);
  return placedForms(book, pageNumber, (form) => mayBePage(form, trimmed, side)).map(({ scale }) => scale);
}

async function picture({ path, pageNumber, ppi, part, limits }: PictureJob): Promise<PageRaster> {
  const request = { book: await bookAt(path, limits), pageNumber, ppi, limits };
  return (await drawPage(part === undefined ? request : { ...request, part })).raster;
}

async function answer(job: PageJob): Promise<unknown> {
  switch (job.do) {
    case 'get-ready':
      await getReadyToDraw();
      return null;
    case 'open':
      return openFile(await bookAt(job.path, job.limits, job.hashed));
    case 'describe':
      return describe(job);
    case 'draw':
      return draw(job);
    case 'look-at-side':
      return lookAtSide(job, await bookAt(job.path, job.limits));
    case 'look-at-dummy-page':
      return lookAtDummyPage(job, await bookAt(job.path, job.limits));
    case 'box-scales':
      return boxScales(job);
    case 'draw-and-compare':
      return drawAndCompare(job);
    case 'compare':
      return compare(job);
    case 'picture':
      return picture(job);
    case 'fold':
      await writeFoldedBook(await bookAt(job.path, job.limits), job.cuts, job.to);
      return null;
    case 'plate-header':
      return readPlateHeader(job.path, job.limits, job.name);
    case 'zip':
      return listPlates(job);
    case 'unpack':
      return unpack(job);
    case 'join':
      await joinPages(job.paths, job.to);
      return null;
    case 'separated':
      return separatedPages(await bookAt(job.path, job.limits));
    case 'plate':
      return readPlate(job, (path) => bookAt(path, job.limits));
    case 'register':
      return registerLooks(job);
    case 'plates':
      return seePlates(job);
    case 'ink-page':
      await writeInkPage(job.page, job.to);
      return null;
  }
}

async function closeBooks(): Promise<void> {
  const books = [...open.values()];
  open.clear();
  await Promise.allSettled(books.map(async (book) => (await book).close()));
}

serveJobs((job) => answer(job as PageJob), closeBooks);
