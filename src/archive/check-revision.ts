import type { Pairing } from '../comparing/index.ts';
import { assembleReport, pairPages, tellCoarsePictures, tellOrderFindings } from '../comparing/index.ts';
import type { Finding, PageRaster } from '../model/index.ts';
import { RASTER_RENDERER } from '../reading/pool/index.ts';
import type { CheckedRevision, CheckRequest, DescribedFile } from './check-request.ts';
import type { Check, Pages, Side } from './check-under-way.ts';
import { counter, coverage, SIDES } from './check-under-way.ts';
import { comparePairs, unreadable } from './compare-pairs.ts';
import { drawWhatIsNeeded } from './draw-pages.ts';
import { tellOnce } from './first-look.ts';
import { viewOf } from './known-page.ts';
import { openBench } from './open-bench.ts';
import type { ReadingTools } from './read-file.ts';
import { describeFile, drawSource } from './read-file.ts';

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
    const report = await reportOn(check);
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

/** The report on two files that are described: what must be seen is drawn, pages are paired, and each pair compared. */
export async function reportOn(check: Check): Promise<ReturnType<typeof assembleReport>> {
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

function tellCoarse({ request }: Check, pages: Pages, pairing: Pairing): readonly Finding[] {
  const pairs = new Map(pairing.pairs.map((pair) => [pair.revisionPage, pair]));
  const described = pages.revision.flatMap((page) => {
    if ('unreadable' in page) return [];
    const pair = pairs.get(page.pageNumber);
    return [{ page, dummyPage: pair?.dummyPage ?? null, sameContent: pair?.by === 'content' }];
  });
  return tellCoarsePictures(described, request.purpose, request.tolerances);
}
