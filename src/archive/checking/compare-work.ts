import { Refusal } from '../../model/index.ts';
import type { Finding, Report } from '../../model/index.ts';
import type { FirstFinding } from '../activity/activity.ts';
import type { Job, JobToDo, KeptReport } from '../catalogue/index.ts';
import type { CheckRequest } from '../check-request.ts';
import { checkRevision } from '../check-revision.ts';
import { checkSheets } from '../check-sheets.ts';
import type { PageJobResult } from '../page-jobs.ts';
import { blobPages, bookPages } from '../files/book-pages.ts';
import { bookToCheck, lendAll } from '../files/lend-book.ts';
import type { Archive } from '../open-archive.ts';
import { planChoiceOf } from '../sheets/plan-choice.ts';
import { platesFormOfBlob } from '../sheets/separations/plates-form.ts';
import type { Work, WorkTools } from '../workers/workers-order.ts';
import type { CompareOrder } from './ask-for-comparisons.ts';
import { areSheets } from './are-sheets.ts';
import { termsFor } from './check-terms.ts';
import type { CheckingOrder } from './checking-order.ts';
import { fileOf } from './file-of.ts';
import { keepFolded } from './keep-folded.ts';
import type { FreshFold } from './keep-folded.ts';
import { keepReport, keptUnder } from './keep-report.ts';
import type { Comparison } from './keep-report.ts';
import { tellOlderPages } from './older-pages.ts';
import { untilAborted } from './until-aborted.ts';

/**
 * The work of a `compare` job: the report is made and kept, its findings are recognised among those of other files, and
 * all of it is recorded at once. Done again, it gives the report that is there.
 */
export function compareWork(archive: Archive, order: CheckingOrder): Work {
  return async (job, tools) => {
    const comparison = await comparisonOf(archive, order, job);
    const kept =
      (await keptUnder(archive.catalogue, comparison)) ??
      (await untilAborted(tools.signal, makeReport(archive, order, comparison, tools)));
    return { result: { reportId: kept.id, verdict: kept.verdict }, then: [drawingOf(kept, order.now())] };
  };
}

async function comparisonOf({ catalogue }: Archive, order: CheckingOrder, job: Job): Promise<Comparison> {
  const { dummyId, fileId } = job.order as CompareOrder;
  const [dummy, file] = [await fileOf(catalogue, dummyId), await fileOf(catalogue, fileId)];
  const pages = await bookPages(catalogue, file);
  if (pages === null) throw new Refusal('unavailable', { what: file.name, reason: 'it is still to be read' });
  return { dummy, file, pages, terms: termsFor(file, order.tolerances) };
}

async function makeReport(
  archive: Archive,
  order: CheckingOrder,
  comparison: Comparison,
  tools: WorkTools,
): Promise<KeptReport> {
  const { report: checked, folded } = await check(archive, order, comparison, tools);
  tools.progress('recognising findings', 0, 1);
  const isForPlates = comparison.file.kind === 'plates-input';
  const told = { ...comparison, report: checked, folded };
  const report = isForPlates ? await tellOlderPages(archive, order, told) : checked;
  return keepReport(archive, order, { comparison, report, folded, signal: tools.signal });
}

/** A report, and the folded book that it is about where the file is imposed sheets. */
interface Checked {
  readonly report: Report;
  readonly folded: FreshFold | null;
}

async function check(
  archive: Archive,
  order: CheckingOrder,
  comparison: Comparison,
  { progress }: WorkTools,
): Promise<Checked> {
  const { catalogue } = archive;
  const { dummy, file, terms } = comparison;
  const { tolerances, purpose } = terms;
  const titleId = (await catalogue.titles.part(file.partId))?.titleId ?? '';
  const request: CheckTools = {
    tolerances,
    purpose,
    limits: order.limits,
    keptFolder: order.factsFolder,
    recentFacts: order.recentFacts,
    workers: order.pool,
    onProgress: ({ stage, done, total }) => progress(stage, done, total),
    onFindings: (found) => {
      if (found.length === 0) return;
      const data = { dummyId: dummy.id, findings: found.map(firstFinding) };
      order.activity.tell({ titleId, partId: file.partId, fileId: file.id, what: 'findings', data });
    },
  };
  const sheets = await comesAsSheets(archive, order, comparison);
  return sheets ? sheetsChecked(archive, order, comparison, request) : pagesChecked(archive, comparison, request);
}

/** Whether a file is sheets or plates of them, which are folded before they are compared. */
async function comesAsSheets(
  { blobs, catalogue }: Archive,
  { pool, limits }: CheckingOrder,
  { dummy, file }: Comparison,
): Promise<boolean> {
  if (file.kind !== 'plates-input' || file.replaces !== null) return false;
  if (file.folding !== null) return true;
  const sides = (await blobPages(catalogue, file.sha256)) ?? [];
  const pages = (await bookPages(catalogue, dummy)) ?? [];
  if (areSheets(pages, sides) || (await platesFormOfBlob(blobs, file.sha256)) !== 'neither') return true;
  // a page for each ink makes more pages
  if (sides.length <= pages.length) return false;
  return blobs.lend(file.sha256, async (path) => {
    const timeoutMs = limits.pageMs;
    return (await pool.run<PageJobResult['separated']>({ do: 'separated', path, limits }, { timeoutMs })) !== null;
  });
}

type CheckTools = Omit<CheckRequest, 'dummyPath' | 'revisionPath'>;

function pagesChecked({ blobs }: Archive, { dummy, file, pages }: Comparison, request: CheckTools): Promise<Checked> {
  return lendAll(blobs, [dummy.sha256, ...pages.map(({ sha256 }) => sha256)], async (paths) => {
    const checked = await checkRevision({
      dummyPath: await bookToCheck(blobs, dummy, [], paths),
      revisionPath: await bookToCheck(blobs, file, pages, paths),
      ...request,
    });
    await checked.close();
    return { report: checked.report, folded: null };
  });
}

/** How sheets fold is what their sender said, or is found from them; the report tells which. */
async function sheetsChecked(
  { blobs }: Archive,
  order: CheckingOrder,
  { dummy, file }: Comparison,
  request: CheckTools,
): Promise<Checked> {
  const planChoice = await planChoiceOf({ blobs }, file);
  return lendAll(blobs, [dummy.sha256, file.sha256], async (paths) => {
    const checked = await checkSheets({
      dummyPath: paths.get(dummy.sha256) ?? '',
      sheetsPath: paths.get(file.sha256) ?? '',
      sheetsName: file.name,
      planChoice,
      ...request,
    });
    try {
      return { report: checked.report, folded: await keepFolded(blobs, order, checked) };
    } finally {
      await checked.close();
    }
  });
}

function firstFinding({ kind, weight, dummyPage, revisionPage, says }: Finding): FirstFinding {
  return { kind, weight, dummyPage, revisionPage, says };
}

/** Asks for the pictures of a report. */
function drawingOf({ id }: KeptReport, at: number): JobToDo {
  return { kind: 'report', key: `report/${id}`, order: { reportId: id }, at };
}
