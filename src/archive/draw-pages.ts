import type { ColourMap } from '../comparing/index.ts';
import { pagesToDraw } from '../comparing/index.ts';
import type { PageFacts } from '../model/index.ts';
import type { Check, Drawn, Pages, Side } from './check-under-way.ts';
import { counter, coverage, rasterPathOf, SIDES } from './check-under-way.ts';
import { compareInPlace } from './compare-in-place.ts';
import type { PagesCompared } from './compare-in-place.ts';
import { comparisonBy } from './compare-pairs.ts';
import { FIRST_PAGES, lookFirst } from './first-look.ts';
import type { KnownPage } from './known-page.ts';
import { isDrawn } from './known-page.ts';
import type { PageToDraw } from './page-jobs.ts';
import { drawFacts, hasKnownFacts, keepDrawn, knownFacts, runJob } from './read-file.ts';

/** @param fresh  the pages that had to be drawn; what the others show was compared before, or is at once */
function lookAtFront(check: Check, pages: Pages, fresh: Readonly<Record<Side, ReadonlySet<number>>>): void {
  const { tolerances, onFindings } = check.request;
  if (onFindings === undefined) return;
  const covers = coverage(check.request);
  lookFirst({
    pages,
    tolerances,
    isFresh: ({ dummyPage, revisionPage }) => fresh.dummy.has(dummyPage) || fresh.revision.has(revisionPage),
    compare: (pair, conversion) => comparisonBy(check, pair, conversion, true),
    tell: (findings) => onFindings(findings.filter(covers)),
  });
}

/** Draws the pages whose content does not pair them, some at a time, and puts the facts in the place of descriptions. */
export async function drawWhatIsNeeded(check: Check): Promise<Drawn> {
  const { request, files } = check;
  const wanted = pagesWanted(check);
  const pages = { dummy: [...files.dummy.pages] as KnownPage[], revision: [...files.revision.pages] as KnownPage[] };
  const jobs = SIDES.flatMap((side) => wanted[side].map((pageNumber) => ({ side, pageNumber })));
  // the front of both files for the first look; then what takes longest, so that no worker is left alone with it
  const weight = (job: (typeof jobs)[number]): number =>
    job.pageNumber <= FIRST_PAGES ? Infinity : files[job.side].identity.bytes;
  jobs.sort((one, other) => Math.sign(weight(other) - weight(one)) || one.pageNumber - other.pageNumber);
  const count = counter(request, 'drawing');
  count.add(0, jobs.length);
  const begun = new Map<string, Promise<void>>();
  const fresh = { dummy: new Set<number>(), revision: new Set<number>() };
  const draw = ({ side, pageNumber }: (typeof jobs)[number]): Promise<void> => {
    const key = `${side} ${pageNumber}`;
    const drawing =
      begun.get(key) ??
      drawOne(check, pages, side, pageNumber).then((isFresh) => {
        if (isFresh) fresh[side].add(pageNumber);
        count.add(1, jobs.length);
      });
    begun.set(key, drawing);
    return drawing;
  };
  const atFront = jobs.filter(({ pageNumber }) => pageNumber <= FIRST_PAGES);
  // where none has to be drawn, nothing there is to be looked at
  const front = Promise.all(atFront.map(draw)).then(() => {
    if (atFront.length > 0) lookAtFront(check, pages, fresh);
  });
  const ofDummy = new Set(wanted.dummy);
  const both = new Set(mayBeInPlace(check) ? wanted.revision.filter((page) => ofDummy.has(page)) : []);
  const [inPlace] = await Promise.all([
    compareInPlace({
      inPlace: [...both],
      pages,
      tolerances: request.tolerances,
      drawApart: async (pageNumber) => {
        await Promise.all(SIDES.map((side) => draw({ side, pageNumber })));
      },
      drawAndCompare: (pageNumber, conversion) => drawAndCompare(check, pages, pageNumber, conversion),
      onDrawn: () => count.add(SIDES.length, jobs.length),
      isKnown: (pageNumber) => SIDES.every((side) => isKnownOf(check, pages, side, pageNumber)),
    }),
    front,
    ...jobs.filter(({ pageNumber }) => !both.has(pageNumber)).map(draw),
  ]);
  return { pages, inPlace };
}

/** Pages of both files that have to be drawn. */
function pagesWanted({ request, files }: Check): Readonly<Record<Side, readonly number[]>> {
  const hashes = (side: Side) =>
    files[side].pages.map((page) => ({
      pageNumber: page.pageNumber,
      contentHash: 'contentHash' in page ? page.contentHash : null,
    }));
  const wanted = pagesToDraw({ dummy: hashes('dummy'), revision: hashes('revision') });
  const inRange = (page: number): boolean =>
    request.pages === undefined || (page >= request.pages.first && page <= request.pages.last);
  return { dummy: wanted.dummy.filter(inRange), revision: wanted.revision.filter(inRange) };
}

/** Puts one page in its place, drawn unless its facts are known. @returns whether it was drawn */
async function drawOne(
  check: Check,
  pages: Readonly<Record<Side, KnownPage[]>>,
  side: Side,
  pageNumber: number,
): Promise<boolean> {
  const { request, tools, files } = check;
  const page = pages[side][pageNumber - 1]!;
  if ('unreadable' in page || isDrawn(page)) return false;
  const rasterPath = rasterPathOf(check, side, pageNumber);
  const ppi = request.tolerances.analysisPpi;
  const shelf = side === 'revision' ? (request.shelf ?? null) : null;
  const ahead = side === 'dummy' ? request.dummyAhead?.pageOf(pageNumber) : undefined;
  const known = ahead ?? (await knownFacts(tools, files[side], page, ppi));
  pages[side][pageNumber - 1] = known ?? (await drawFacts(tools, files[side], page, { ppi, rasterPath, shelf }));
  return known === null;
}

/** Whether nothing is to be drawn of a page, be it that it cannot be read. */
function isKnownOf({ request, tools, files }: Check, pages: Pages, side: Side, pageNumber: number): boolean {
  const page = pages[side][pageNumber - 1]!;
  if ('unreadable' in page || isDrawn(page)) return true;
  return hasKnownFacts(tools, files[side], page, request.tolerances.analysisPpi);
}

/** Pages of sheets are partly drawn already, and their pictures wait on a shelf. */
function mayBeInPlace({ request }: Check): boolean {
  return request.shelf === undefined && request.dummyAhead === undefined;
}

/** Draws and compares a page of both files in one job; null where one cannot be read, both are known, or the job goes wrong. */
async function drawAndCompare(
  check: Check,
  pages: Readonly<Record<Side, KnownPage[]>>,
  pageNumber: number,
  bookConversion: ColourMap,
): Promise<PagesCompared | null> {
  const { request, tools } = check;
  const { tolerances, limits } = request;
  const dummy = await toDraw(check, 'dummy', pages.dummy[pageNumber - 1]!);
  const revision = await toDraw(check, 'revision', pages.revision[pageNumber - 1]!);
  if (dummy === null || revision === null) return null;
  if (isDrawn(dummy.page) && isDrawn(revision.page)) {
    pages.dummy[pageNumber - 1] = dummy.page;
    pages.revision[pageNumber - 1] = revision.page;
    return null;
  }
  const job = { do: 'draw-and-compare', dummy, revision, bookConversion, tolerances, limits } as const;
  // what goes wrong is found out with each page alone
  const drawn = await runJob(tools, job, 4).catch(() => null);
  if (drawn === null) return null;
  const factsOf = async (side: Side, { page }: PageToDraw): Promise<PageFacts> => {
    const seen = drawn[side];
    if (seen === null) return page as PageFacts;
    await keepDrawn(tools, check.files[side], page, tolerances.analysisPpi, seen);
    return { ...page, ...seen };
  };
  const { comparison } = drawn;
  return { dummy: await factsOf('dummy', dummy), revision: await factsOf('revision', revision), comparison };
}

async function toDraw({ request, tools, files }: Check, side: Side, page: KnownPage): Promise<PageToDraw | null> {
  if ('unreadable' in page) return null;
  const { path, pageNumber: filePage, coarse = {} } = files[side].sourceOf(page.pageNumber);
  const known = await knownFacts(tools, files[side], page, request.tolerances.analysisPpi);
  return { path, filePage, coarse, page: known ?? page };
}
