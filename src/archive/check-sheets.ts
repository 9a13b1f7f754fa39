import { basename, join } from 'node:path';
import type { Box, PageDescription, ReportSheets } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import { marksOnPages, refinePlaces, tellMarks, tellPlaceFindings, tellSheets, tellSpots } from '../plates/index.ts';
import type { Plan, SeenSide } from '../plates/index.ts';
import type { PictureShelf, SheetCut } from '../reading/index.ts';
import { fileIdentity } from '../reading/pool/index.ts';
import type { AssembledBook, BookToCheck, CheckedRevision, DescribedFile, DrawnAhead } from './check-request.ts';
import { checkRevision } from './check-revision.ts';
import { openBench } from './open-bench.ts';
import type { ReadingTools } from './read-file.ts';
import { getWorkersReady } from './page-workers.ts';
import { describeFile, drawSource, runJob } from './read-file.ts';
import type { JudgedSides } from './sheets/separations/judge-sides.ts';
import { judgeSides, separationsOf } from './sheets/separations/judge-sides.ts';
import type { ReadPlates } from './sheets/separations/find-plates.ts';
import { pdfPlates, tiffPlates } from './sheets/separations/find-plates.ts';
import { plateFiles } from './sheets/separations/plate-files.ts';
import { readPlates } from './sheets/separations/read-plates.ts';
import { atFullSize, tellScale } from './sheets/at-full-size.ts';
import { asPlanned, cutBoxes, lookAtSides, placedAsPlanned, turnedCells } from './sheets/look-at-sides.ts';
import type { FoldedAhead, FoldedBook } from './sheets/fold-ahead.ts';
import { foldAhead } from './sheets/fold-ahead.ts';
import { readDummy } from './sheets/read-dummy.ts';
import { readSides } from './sheets/read-sheets.ts';
import type { SheetsRead } from './sheets/read-sheets.ts';
import type { SettledPlan } from './sheets/settle-plan.ts';
import { settlePlan } from './sheets/settle-plan.ts';
import type { CheckedSheets, SheetsRequest } from './sheets/sheets-request.ts';
import type { SheetsSource } from './sheets/sheets-source.ts';
import { pdfSheets } from './sheets/sheets-source.ts';

/** A side with two pages has twice the area of one; trims only add to that. */
const LEAST_PAGES = 1.8;
/** Of each worker: a hundred full pages. */
const SHELF_BYTES = 800e6;

/**
 * Compares imposed sheets with the dummy: settles their plan, measures every page's place, cuts the pages out, folds them
 * into a book and compares that page by page, and tells what is wrong in the words of sheets.
 *
 * @returns the report and a way to draw pages of the folded book and sides for people; to be closed
 * @throws {Refusal} malformed: a plan that does not fit the dummy or the sheets; unreadable, too-large, not-found,
 * unavailable: one of the files as a whole, or a side of a sheet
 */
export async function checkSheets(request: SheetsRequest): Promise<CheckedSheets> {
  const { tools, scratch, close } = await openBench(request);
  // the first job is for one worker alone; the others load meanwhile
  void getWorkersReady(tools.pool, tools.limits);
  try {
    const sheets = await takeApart(request, tools, scratch);
    const { plan, seen, turned, folded, file, source, judged, shelf, dummyAhead } = sheets;
    // what pages tell before the sheets are heard might be told in other words than at the end
    const { sheetsPath: _path, furtherPaths: _paths, planChoice: _choice, onFindings, ...rest } = request;
    const files = { dummyPath: sheets.dummy, revisionPath: folded.described ?? folded.book };
    const checked = await checkRevision({ ...rest, ...files, shelf, dummyAhead, workers: tools.pool });
    const told = tellSheets(
      { ...checked.report, revision: { ...file.identity, ...source.identity } },
      {
        plan,
        seen,
        turned,
        blank: sheets.blank,
        withheld: judged?.withheld ?? new Set(),
        unseen: judged?.unseen ?? new Set(),
        marks: marksOnPages(sheets.marks, seen),
        further: [
          ...tellScale(sheets.scale, sheets.trimmed),
          ...(judged?.findings ?? []),
          ...tellMarks(plan, sheets.marks),
          ...tellPlaceFindings(plan, seen, request.tolerances, request.planChoice.from === 'given'),
        ],
        sheets: sheetsOf(request, sheets),
      },
    );
    const report = tellSpots(told, judged?.spots ?? []);
    onFindings?.(report.findings);
    return {
      report,
      plan,
      agreement: sheets.agreement,
      foldedBook: () => asOneFile(folded.book, join(scratch, 'folded-book.pdf'), tools),
      sidesBook: async () =>
        source.plates === null ? null : asOneFile(source.book, join(scratch, 'sides-book.pdf'), tools),
      drawPage: (side, pageNumber, ppi) => checked.drawPage(side, pageNumber, ppi),
      drawSide: (pageNumber, ppi): ReturnType<CheckedRevision['drawPage']> =>
        drawSource(tools, sheets.sent.sourceOf(pageNumber), ppi),
      async close() {
        await checked.close();
        await close();
      },
    };
  } catch (error) {
    await close();
    throw error;
  }
}

/** A book of several files as one PDF. */
async function asOneFile(book: string | AssembledBook, to: string, tools: ReadingTools): Promise<string> {
  if (typeof book === 'string') return book;
  const paths = book.pages.map(({ path }) => path);
  await runJob(tools, { do: 'join', paths, to }, paths.length);
  return to;
}

interface TakenApart extends SettledPlan {
  readonly dummy: DescribedFile;
  /** As it was sent. */
  readonly sent: DescribedFile;
  /** With pages of the dummy's size. */
  readonly file: DescribedFile;
  /** Of the pages as they were sent, over the dummy. */
  readonly scale: number;
  readonly trimmed: Plan['trimmed'];
  readonly seen: readonly SeenSide[];
  readonly turned: ReadonlyMap<number, 90 | 180 | 270>;
  /** Pages of the dummy with nothing on them. */
  readonly blank: ReadonlySet<number>;
  readonly source: SheetsSource;
  /** Where the sheets come as plates. */
  readonly judged: JudgedSides | null;
  readonly folded: FoldedBook;
  /** Pictures that sides and pages both show. */
  readonly shelf: PictureShelf;
  readonly dummyAhead: DrawnAhead;
}

async function takeApart(request: SheetsRequest, tools: ReadingTools, scratch: string): Promise<TakenApart> {
  const { dummyPath, onProgress } = request;
  let [done, total] = [0, 0];
  const count = (more: number): void => onProgress?.({ stage: 'reading', done: (done += more), total });
  const describe = (book: BookToCheck): Promise<DescribedFile> => describeFile(tools, book, () => undefined);
  const described = describe(dummyPath);
  // what is wrong with the sheets is told first
  described.catch(() => undefined);
  const opened = await openSheets(request, tools, scratch, (more, plates) => {
    total = plates;
    count(more);
  });
  const [dummy, sent] = await Promise.all([described, describe(opened.book)]);
  total += dummy.pages.length + sent.pages.length;
  const trimmed = usualSize(dummy);
  if (opened.plates !== null) requireSheets(opened.plates, trimmed, request);
  const shelf: PictureShelf = { folder: scratch, ppi: request.tolerances.analysisPpi, mostBytes: SHELF_BYTES };
  // sides first: one of them takes as long as many pages
  const pageSize = request.planChoice.from === 'given' ? null : trimmed;
  const sidesRead = readSides(tools, sent, pageSize, count, shelf);
  const dummyAhead = readDummy(tools, dummy, request.tolerances, scratch, count);
  let foldedAhead: FoldedAhead | null = null;
  try {
    const [sidesAsSent, pages] = await Promise.all([sidesRead, dummyAhead.pages]);
    const asSent = { source: opened, file: sent, sides: sidesAsSent };
    const { source, file, sides, scale } = await atFullSize(asSent, { pages, trimmed }, tools, (again) =>
      readSides(tools, again, pageSize, () => undefined, shelf),
    );
    const read = { pages, trimmed, sides };
    const planned = settlePlan(request.planChoice, read);
    foldedAhead = foldAhead(tools, source, file, cutsInOrder(planned.plan, placedAsPlanned(planned), new Map()));
    const { settled, seen, judged } = await lookAt(request, read, source, tools, planned);
    const turned = turnedCells(seen);
    const printedOn = new Map(judged?.printed.map((printed, index) => [seen[index]!.filePage, printed]));
    const cuts = cutsInOrder(settled.plan, seen, turned);
    const folded = await foldedAhead.by(cuts, printedOn);
    const blank = new Set(pages.flatMap((page) => (page?.known.thumb === null ? [page.known.page] : [])));
    return {
      ...settled,
      dummy,
      sent,
      file,
      scale,
      trimmed,
      source,
      judged,
      seen,
      turned,
      blank,
      folded,
      shelf,
      dummyAhead,
    };
  } catch (error) {
    await Promise.all([dummyAhead.end(), foldedAhead?.end()]);
    throw error;
  }
}

interface LookedAt {
  readonly settled: SettledPlan;
  readonly seen: readonly SeenSide[];
  readonly judged: JudgedSides | null;
}

/**
 * Looks at each side by the plan that was settled. Black draws most of what pages are known by: where blacks of two sides were
 * exchanged, the sides seem to be; as they were sent more of the plates fit their pages, and so they are taken.
 */
async function lookAt(
  { planChoice, tolerances }: SheetsRequest,
  read: SheetsRead,
  { plates }: SheetsSource,
  tools: ReadingTools,
  planned: SettledPlan,
): Promise<LookedAt> {
  const look = async (settled: SettledPlan, by: 'seen' | 'sent'): Promise<LookedAt> => {
    const looked = await lookAtSides(settled, read);
    const measured = settled.located === 'matching' ? refinePlaces(looked) : looked;
    const cut = cutBoxes(settled.plan, measured, tolerances);
    const seen = by === 'sent' ? asPlanned(cut) : cut;
    const judged = plates === null ? null : await judgeSides(plates, seen, read.pages, tools, tolerances);
    return { settled, seen, judged };
  };
  const bySight = await look(planned, 'seen');
  const inOrder = bySight.settled.filePages.every((page, index) => page === index + 1);
  if (inOrder || bySight.judged === null) return bySight;
  const asSent = await look(settlePlan(planChoice, read, 'sent'), 'sent');
  return asSent.judged!.toldPlates > bySight.judged.toldPlates ? asSent : bySight;
}

/** One file of sheets as pages, or the plates of each ink. */
async function openSheets(
  { sheetsPath, sheetsName = basename(sheetsPath), furtherPaths = [] }: SheetsRequest,
  tools: ReadingTools,
  scratch: string,
  onPlates: (done: number, total: number) => void,
): Promise<SheetsSource> {
  const found = await plateFiles({ paths: [sheetsPath, ...furtherPaths], name: sheetsName }, tools, scratch);
  if (found !== null) {
    const read = await readPlates(await tiffPlates(found.plates, tools), tools, scratch, onPlates);
    return found.isOneFile ? { ...read, identity: await fileIdentity(sheetsPath) } : read;
  }
  const plates = await pdfPlates(sheetsPath, sheetsName, tools);
  if (plates === null) return pdfSheets(sheetsPath, tools, scratch);
  return { ...(await readPlates(plates, tools, scratch, onPlates)), identity: await fileIdentity(sheetsPath) };
}

/** Where a plate has room for one page only, there is no sheet to be taken apart. */
function requireSheets(
  { sets }: ReadPlates,
  page: PageDescription['trimmed'],
  { sheetsPath, sheetsName = basename(sheetsPath) }: SheetsRequest,
): void {
  if (sets.some(({ width, height }) => width * height >= LEAST_PAGES * page.width * page.height)) return;
  const reason = 'its plates have room for one page each; plates of imposed sheets are expected';
  throw new Refusal('unreadable', { file: sheetsName, reason });
}

/** The size that most pages of the dummy have. */
function usualSize({ pages }: DescribedFile): PageDescription['trimmed'] {
  const sizes = pages.flatMap((page) => ('unreadable' in page ? [] : [page.trimmed]));
  const nameOf = ({ width, height }: PageDescription['trimmed']): string => `${width.toFixed(1)} ${height.toFixed(1)}`;
  const counts = new Map<string, number>();
  for (const size of sizes) counts.set(nameOf(size), (counts.get(nameOf(size)) ?? 0) + 1);
  const usual = [...sizes].sort((one, other) => counts.get(nameOf(other))! - counts.get(nameOf(one))!)[0];
  if (usual !== undefined) return usual;
  throw new Refusal('unreadable', { file: 'the dummy', reason: 'none of its pages can be read' });
}

/** Page by page as the folded book has them. */
function cutsInOrder(
  plan: Plan,
  seen: readonly SeenSide[],
  turned: ReadonlyMap<number, 90 | 180 | 270>,
): readonly SheetCut[] {
  const cuts = new Map<number, SheetCut>();
  for (const { filePage, cells } of seen) {
    for (const { cell, box } of cells) {
      if (cell.page === null) continue;
      const turnDeg = ((cell.turnDeg + (turned.get(cell.page) ?? 0)) % 360) as SheetCut['turnDeg'];
      cuts.set(cell.page, { filePage, box, turnDeg, bleedMm: 0 });
    }
  }
  return Array.from({ length: plan.pages }, (_, index) => cuts.get(index + 1)!);
}

/** Lengths as the sheets were sent. */
function sheetsOf(request: SheetsRequest, { plan, file, source, seen, located, scale }: TakenApart): ReportSheets {
  const sent = ({ x, y, width, height }: Box): Box => ({
    x: x * scale,
    y: y * scale,
    width: width * scale,
    height: height * scale,
  });
  return {
    ...(source.plates === null ? {} : { separations: separationsOf(source.plates, seen) }),
    plan: request.planChoice.from,
    binding: plan.binding,
    filePages: file.pages.length,
    located,
    sides: seen.map(({ sheet, side, filePage, cells }) => {
      const { width, height } = plan.sheets[sheet - 1]!;
      return {
        sheet,
        side,
        filePage,
        width: width * scale,
        height: height * scale,
        cells: cells.map(({ cell, box }) => {
          const { page, row, column, turnDeg } = cell;
          return { page, row, column, box: scale === 1 ? box : sent(box), turnDeg };
        }),
      };
    }),
  };
}
