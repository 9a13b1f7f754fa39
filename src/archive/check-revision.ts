import { join } from 'node:path';
import type { PageComparison, Pairing } from '../comparing/index.ts';
import {
  assembleReport,
  fitBookConversion,
  learningPairs,
  pagesToDraw,
  pairPages,
  tellCoarsePictures,
  tellOrderFindings,
} from '../comparing/index.ts';
import type { ColourMap } from '../comparing/index.ts';
import type { Finding, PageRaster } from '../model/index.ts';
import { RASTER_RENDERER } from '../reading/pool/index.ts';
import type { CheckedRevision, CheckRequest, DescribedFile, Progress } from './check-request.ts';
import { compareInPlace, isToBeCompared, signaturesOf } from './compare-in-place.ts';
import type { ComparedInPlace } from './compare-in-place.ts';
import { earlierConversions, saySame } from './earlier-conversions.ts';
import { FIRST_PAGES, lookFirst, tellOnce } from './first-look.ts';
import type { DrawnPair } from './first-look.ts';
import { isDrawn, viewOf } from './known-page.ts';
import type { KnownPage } from './known-page.ts';
import { openBench } from './open-bench.ts';
import type { DrawnAndCompared, PageOnDisk, PageToDraw } from './page-jobs.ts';
import type { ReadingTools } from './read-file.ts';
import { renumbered } from './kept-comparison.ts';
import { describeFile, drawFacts, drawSource, keepDrawn, knownFacts, looksOf, runJob } from './read-file.ts';

type Side = 'dummy' | 'revision';
const SIDES: readonly Side[] = ['dummy', 'revision'];

/** One check under way: the request, its tools, and the files. */
interface Check {
  readonly request: CheckRequest;
  readonly tools: ReadingTools;
  readonly files: Readonly<Record<Side, DescribedFile>>;
  readonly scratch: string;
}

/**
 * Compares a revision with the dummy: both files described, what must be seen drawn, pages paired, each pair compared, one
 * report made. Work on pages is done in worker processes, so that a page that kills its worker only costs itself.
 *
 * @returns the report and a way to draw pages for people; to be closed
 * @throws {Refusal} unreadable, too-large, not-found, unavailable: one of the files as a whole
 */
export async function checkRevision(given: CheckRequest): Promise<CheckedRevision> {
  const { onFindings } = given;
  const request = onFindings === undefined ? given : { ...given, onFindings: tellOnce(onFindings) };
  const { tools, scratch, close } = await openBench(request);
  try {
    const check = { request, tools, scratch, files: await describeBoth(request, tools) };
    const report = await makeReport(check);
    const { files } = check;
    const drawPage = (side: Side, pageNumber: number, ppi: number): Promise<PageRaster> =>
      drawSource(tools, files[side].sourceOf(pageNumber), ppi);
    return { report, drawPage, close };
  } catch (error) {
    await close();
    throw error;
  }
}

async function describeBoth(
  request: CheckRequest,
  tools: ReadingTools,
): Promise<Readonly<Record<Side, DescribedFile>>> {
  const count = counter(request, 'reading');
  const totals = { dummy: 0, revision: 0 };
  const describe = (side: Side, book: CheckRequest['dummyPath']): Promise<DescribedFile> =>
    describeFile(tools, book, (done, total) => {
      totals[side] = total;
      count.add(done, totals.dummy + totals.revision);
    });
  const [dummy, revision] = await Promise.all([
    describe('dummy', request.dummyPath),
    describe('revision', request.revisionPath),
  ]);
  return { dummy, revision };
}

async function makeReport(check: Check): Promise<ReturnType<typeof assembleReport>> {
  const { request, files } = check;
  const { pages, inPlace } = await drawWhatIsNeeded(check);
  const pairing = pairPages(
    { dummy: pages.dummy.map(viewOf), revision: pages.revision.map(viewOf) },
    request.tolerances,
  );
  const covers = coverage(request);
  request.onFindings?.(tellOrderFindings(pairing).filter(covers));
  const comparisons = await comparePairs(check, { pages, inPlace }, pairing, covers);
  return assembleReport({
    dummy: files.dummy.identity,
    revision: files.revision.identity,
    tolerances: request.tolerances,
    renderer: RASTER_RENDERER,
    pairing,
    comparisonOf: ({ revisionPage }) => comparisons.get(revisionPage) ?? null,
    further: [...tellUnreadable(pages, pairing), ...tellCoarse(check, pages, pairing)],
    covers,
  });
}

type Pages = Readonly<Record<Side, readonly KnownPage[]>>;

/** Pages as far as they are known, and those that were compared before they were paired. */
interface Drawn {
  readonly pages: Pages;
  readonly inPlace: ReadonlyMap<number, ComparedInPlace>;
}

/** Draws the pages whose content does not pair them, some at a time, and puts the facts in the place of descriptions. */
async function drawWhatIsNeeded(check: Check): Promise<Drawn> {
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
  const draw = ({ side, pageNumber }: (typeof jobs)[number]): Promise<void> => {
    const key = `${side} ${pageNumber}`;
    const drawing = begun.get(key) ?? drawOne(check, pages, side, pageNumber).then(() => count.add(1, jobs.length));
    begun.set(key, drawing);
    return drawing;
  };
  const isAtFront = ({ pageNumber }: { readonly pageNumber: number }): boolean => pageNumber <= FIRST_PAGES;
  const front = Promise.all(jobs.filter(isAtFront).map(draw)).then(() => lookAtFront(check, pages));
  const both = mayBeInPlace(check) ? wanted.revision.filter((page) => wanted.dummy.includes(page)) : [];
  const apart = new Set(both);
  const [inPlace] = await Promise.all([
    compareInPlace({
      inPlace: both,
      pages,
      tolerances: request.tolerances,
      drawApart: async (pageNumber) => {
        await Promise.all(SIDES.map((side) => draw({ side, pageNumber })));
      },
      drawAndCompare: (pageNumber, conversion) => drawAndCompare(check, pages, pageNumber, conversion),
      onDrawn: () => count.add(SIDES.length, jobs.length),
    }),
    front,
    ...jobs.filter(({ pageNumber }) => !apart.has(pageNumber)).map(draw),
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

/** Draws one page and puts it in its place. */
async function drawOne(
  check: Check,
  pages: Readonly<Record<Side, KnownPage[]>>,
  side: Side,
  pageNumber: number,
): Promise<void> {
  const { request, tools, files } = check;
  const page = pages[side][pageNumber - 1]!;
  if ('unreadable' in page) return;
  const rasterPath = rasterPathOf(check, side, pageNumber);
  const ppi = request.tolerances.analysisPpi;
  const shelf = side === 'revision' ? (request.shelf ?? null) : null;
  const ahead = side === 'dummy' ? request.dummyAhead?.pageOf(pageNumber) : undefined;
  pages[side][pageNumber - 1] = ahead ?? (await drawFacts(tools, files[side], page, { ppi, rasterPath, shelf }));
}

/** Pages of sheets are partly drawn already, and their pictures wait on a shelf. */
function mayBeInPlace({ request }: Check): boolean {
  return request.shelf === undefined && request.dummyAhead === undefined;
}

/** Draws and compares a page of both files in one job; null where both are known, one cannot be read, or the job goes wrong. */
async function drawAndCompare(
  { request, tools, files }: Check,
  pages: Pages,
  pageNumber: number,
  bookConversion: ColourMap,
): Promise<DrawnAndCompared | null> {
  const { tolerances, limits } = request;
  const ppi = tolerances.analysisPpi;
  const toDraw = async (side: Side): Promise<PageToDraw | null> => {
    const page = pages[side][pageNumber - 1]!;
    if ('unreadable' in page) return null;
    const { path, pageNumber: filePage, coarse = {} } = files[side].sourceOf(pageNumber);
    return { path, filePage, coarse, page: (await knownFacts(tools, files[side], page, ppi)) ?? page };
  };
  const [dummy, revision] = [await toDraw('dummy'), await toDraw('revision')];
  if (dummy === null || revision === null || (isDrawn(dummy.page) && isDrawn(revision.page))) return null;
  const job = { do: 'draw-and-compare', dummy, revision, bookConversion, tolerances, limits } as const;
  const drawn = await runJob(tools, job, 4).catch(() => null);
  if (drawn === null) return null;
  for (const [side, { page }] of [
    ['dummy', dummy],
    ['revision', revision],
  ] as const) {
    if (isDrawn(page)) continue;
    const { words, signature, rasterHash, blank } = drawn[side];
    await keepDrawn(tools, files[side], page, ppi, { words, signature, rasterHash, blank });
  }
  return drawn;
}

function lookAtFront(check: Check, pages: Pages): void {
  const { tolerances, onFindings } = check.request;
  if (onFindings === undefined) return;
  const covers = coverage(check.request);
  lookFirst({
    pages,
    tolerances,
    compare: (pair, conversion) => comparisonBy(check, pair, conversion, true),
    tell: (findings) => onFindings(findings.filter(covers)),
  });
}

function rasterPathOf({ scratch, request: { dummyAhead } }: Check, side: Side, pageNumber: number): string {
  if (side === 'dummy' && dummyAhead !== undefined) return dummyAhead.rasterPathOf(pageNumber);
  return join(scratch, `${side}-${pageNumber}.raster`);
}

type Covers = (page: { readonly dummyPage: number | null; readonly revisionPage: number | null }) => boolean;

/** With `--pages`, what touches the range on either side; findings about whole files always. */
function coverage({ pages }: CheckRequest): Covers {
  if (pages === undefined) return () => true;
  const within = (page: number | null): boolean => page !== null && page >= pages.first && page <= pages.last;
  return ({ dummyPage, revisionPage }) =>
    (dummyPage === null && revisionPage === null) || within(dummyPage) || within(revisionPage);
}

async function comparePairs(
  check: Check,
  { pages, inPlace }: Drawn,
  pairing: Pairing,
  covers: Covers,
): Promise<ReadonlyMap<number, PageComparison>> {
  const { request } = check;
  const todo = pairing.pairs.flatMap((pair) => {
    const [dummy, revision] = [pages.dummy[pair.dummyPage - 1], pages.revision[pair.revisionPage - 1]];
    if (!isToBeCompared(pair) || !covers(pair)) return [];
    return isDrawn(dummy) && isDrawn(revision) ? [{ pair, dummy, revision }] : [];
  });
  // in the book's order, so that whoever watches reads of its first pages first
  todo.sort((one, other) => one.pair.revisionPage - other.pair.revisionPage);
  const conversions = await conversionsOf(check, todo);
  const count = counter(request, 'comparing');
  count.add(0, todo.length);
  const results = new Map<number, PageComparison>();
  await Promise.all(
    todo.map(async ({ pair, dummy, revision }) => {
      const early = pair.dummyPage === pair.revisionPage ? inPlace.get(pair.revisionPage) : undefined;
      const comparison = await compareOne(check, { pair, dummy, revision }, conversions, early);
      results.set(pair.revisionPage, comparison);
      request.onFindings?.(comparison.findings);
      count.add(1, todo.length);
    }),
  );
  return results;
}

/** How the book's colours were converted. */
interface Conversions {
  /** What the pairs that are compared agree on. */
  readonly fresh: ColourMap;
  /** Learned in earlier checks, and the same but for a hair. */
  readonly earlier: readonly ColourMap[];
  /** Whether another one is the same but for a hair. */
  readonly isAlike: (other: ColourMap) => boolean;
}

async function conversionsOf({ request, tools, files }: Check, pairs: readonly DrawnPair[]): Promise<Conversions> {
  const placed = pairs.map((pair) => ({ ...pair, revisionPage: pair.pair.revisionPage }));
  const fresh = fitBookConversion(learningPairs(placed).map(signaturesOf));
  const learnedOf = { dummy: files.dummy.identity.sha256, tolerances: request.tolerances };
  const signatures = pairs.map(({ dummy }) => dummy.signature);
  const known = new Map<ColourMap, boolean>();
  const isAlike = (other: ColourMap): boolean => {
    const alike = known.get(other) ?? saySame(other, fresh, signatures);
    known.set(other, alike);
    return alike;
  };
  return { fresh, earlier: await earlierConversions(tools.kept, learnedOf, fresh, signatures), isAlike };
}

/**
 * A comparison that was made before is taken where it was made by this very conversion; where by one that differs by a hair,
 * only if it found nothing: figures of findings never hang on what was checked before, or on what was compared first.
 *
 * @param early  made before the pages were paired
 */
async function compareOne(
  check: Check,
  drawn: DrawnPair,
  { fresh, earlier, isAlike }: Conversions,
  early: ComparedInPlace | undefined,
): Promise<PageComparison> {
  const { request, tools, files } = check;
  const { tolerances } = request;
  const { dummyPage, revisionPage } = drawn.pair;
  const looks = [looksOf(files.dummy, drawn.dummy), looksOf(files.revision, drawn.revision)];
  const { coarse = {} } = files.revision.sourceOf(revisionPage);
  const termsBy = (conversion: ColourMap) => [...looks, coarse, tolerances, [...conversion]];
  if (early !== undefined) {
    const { conversion, comparison } = early;
    const isSame = conversion.every((number, at) => number === fresh[at]);
    if (isSame || (comparison.findings.length === 0 && isAlike(conversion))) {
      await tools.kept.write('compared', termsBy(conversion), comparison);
      return comparison;
    }
  }
  for (const conversion of [fresh, ...earlier]) {
    const known = await tools.kept.read<PageComparison>('compared', termsBy(conversion));
    if (known === null || (conversion !== fresh && known.findings.length > 0)) continue;
    return renumbered(known, drawn.pair);
  }
  try {
    const comparison = await comparisonBy(check, drawn, fresh, false);
    await tools.kept.write('compared', termsBy(fresh), comparison);
    return comparison;
  } catch (error) {
    const cause = error instanceof Error ? error.message : String(error);
    return { findings: [unreadable('revision', dummyPage, revisionPage, cause)], colour: null, wantsFine: false };
  }
}

/** A pair compared by a worker. */
function comparisonBy(
  check: Check,
  { pair, dummy, revision }: DrawnPair,
  bookConversion: ColourMap,
  isFirst: boolean,
): Promise<PageComparison> {
  const { request, tools, files } = check;
  const { tolerances, limits } = request;
  const onDisk = (side: Side, pageNumber: number): Omit<PageOnDisk, 'facts'> => {
    const { path, pageNumber: filePage, coarse = {} } = files[side].sourceOf(pageNumber);
    return { path, filePage, coarse, rasterPath: rasterPathOf(check, side, pageNumber) };
  };
  const pages = {
    dummy: { ...onDisk('dummy', pair.dummyPage), facts: dummy },
    revision: { ...onDisk('revision', pair.revisionPage), facts: revision },
  };
  return runJob(tools, { do: 'compare', ...pages, bookConversion, tolerances, limits }, 2, isFirst);
}

function tellUnreadable(pages: Pages, pairing: Pairing): readonly Finding[] {
  const partner = {
    dummy: new Map(pairing.pairs.map(({ dummyPage, revisionPage }) => [dummyPage, revisionPage])),
    revision: new Map(pairing.pairs.map(({ dummyPage, revisionPage }) => [revisionPage, dummyPage])),
  };
  return SIDES.flatMap((side) =>
    pages[side].flatMap((page) => {
      if (!('unreadable' in page)) return [];
      const other = partner[side].get(page.pageNumber) ?? null;
      const [dummyPage, revisionPage] = side === 'dummy' ? [page.pageNumber, other] : [other, page.pageNumber];
      return [unreadable(side, dummyPage, revisionPage, page.unreadable)];
    }),
  );
}

function unreadable(file: Side, dummyPage: number | null, revisionPage: number | null, cause: string): Finding {
  const page = file === 'dummy' ? dummyPage : revisionPage;
  return {
    kind: 'page-unreadable',
    weight: 'stop',
    dummyPage,
    revisionPage,
    box: null,
    revisionBox: null,
    measured: { file, cause },
    says: `Page ${page} of the ${file} could not be compared: ${cause}.`,
  };
}

function tellCoarse({ request }: Check, pages: Pages, pairing: Pairing): readonly Finding[] {
  const pairs = new Map(pairing.pairs.map((pair) => [pair.revisionPage, pair]));
  const described = pages.revision.flatMap((page) => {
    if ('unreadable' in page) return [];
    const pair = pairs.get(page.pageNumber);
    return [{ page, dummyPage: pair?.dummyPage ?? null, sameContent: pair?.by === 'content' }];
  });
  return tellCoarsePictures(described, request.purpose, request.tolerances);
}

/** Adds up what is done of a stage and tells it. */
function counter({ onProgress }: CheckRequest, stage: Progress['stage']): { add(done: number, total: number): void } {
  let sum = 0;
  return {
    add(done, total) {
      sum += done;
      onProgress?.({ stage, done: sum, total });
    },
  };
}
