import type { NewsToTell } from '../activity/activity.ts';
import type { Job, JobKind } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { describeCause } from '../workers/describe-cause.ts';
import type { Work } from '../workers/workers-order.ts';
import { askForComparisons } from './ask-for-comparisons.ts';
import type { CheckingOrder } from './checking-order.ts';
import { compareWork } from './compare-work.ts';
import { readWork } from './read-work.ts';
import { reportWork } from './report-work.ts';

type Told = Pick<NewsToTell, 'what' | 'data'>;

/**
 * What the workers of an archive do: read what was sent, compare it with the dummy, draw the pictures of the report. Each
 * step can be done again after a kill and comes out the same; what happens is told as news.
 */
export function archiveWork(archive: Archive, order: CheckingOrder): Readonly<Record<JobKind, Work>> {
  const told = (work: Work): Work => withNews(archive, order, work);
  return {
    read: told(readWork(archive, order)),
    compare: told(compareWork(archive, order)),
    report: told(reportWork(archive, order)),
  };
}

/**
 * Asks for every comparison that is due in any part, as after a kill between a statement and what follows from it, or
 * when the operator sets other tolerances. @returns how many are not done yet
 */
export async function askForAllComparisons(archive: Archive, order: CheckingOrder): Promise<number> {
  const { catalogue } = archive;
  const { tolerances, now } = order;
  let open = 0;
  for (const partId of await catalogue.files.parts()) {
    const jobs = await catalogue.together((tables) => askForComparisons(tables, partId, { tolerances, at: now() }));
    open += jobs.filter(({ state }) => state === 'waiting' || state === 'running').length;
  }
  return open;
}

function withNews(archive: Archive, { activity }: CheckingOrder, work: Work): Work {
  return async (job, tools) => {
    const about = await subjectOf(archive, job);
    const tell = (news: Told): void => activity.tell({ ...about, ...news } as NewsToTell);
    const progress = (stage: string, done: number, total: number): void => {
      tools.progress(stage, done, total);
      tell({ what: 'progress', data: { job: job.kind, stage, done, total } });
    };
    try {
      const outcome = await work(job, { ...tools, progress });
      const news = await newsOf(archive, outcome.result);
      if (news !== null) tools.afterwards(() => tell(news));
      return outcome;
    } catch (error) {
      if (!tools.signal.aborted) {
        const { cause, isLasting } = describeCause(error);
        const isLast = isLasting || job.tries >= job.mostTries;
        tools.afterwards(() => tell({ what: 'stumbled', data: { job: job.kind, cause, isLast } }));
      }
      throw error;
    }
  };
}

async function newsOf({ catalogue }: Archive, result: unknown): Promise<Told | null> {
  const { reportId, pictures, pages, unreadable } = result as Readonly<Record<string, unknown>>;
  if (typeof pages === 'number') return { what: 'read', data: { pages, unreadable: Number(unreadable) } };
  if (typeof reportId !== 'string') return null;
  if (typeof pictures === 'number') return { what: 'pictures', data: { reportId, pictures } };
  const kept = await catalogue.reports.get(reportId);
  if (kept === null) return null;
  const weights = { stop: 0, look: 0, note: 0 };
  for (const { weight } of await catalogue.findings.inReport(reportId)) weights[weight] += 1;
  return { what: 'compared', data: { dummyId: kept.dummyId, reportId, verdict: kept.verdict, weights } };
}

async function subjectOf(
  { catalogue }: Archive,
  { order }: Job,
): Promise<{ readonly titleId: string; readonly partId: string; readonly fileId: string }> {
  const { fileId, reportId } = order as { readonly fileId?: string; readonly reportId?: string };
  const report = reportId === undefined ? null : await catalogue.reports.get(reportId);
  const file = await catalogue.files.get(fileId ?? report?.fileId ?? '');
  const part = await catalogue.titles.part(file?.partId ?? '');
  return { titleId: part?.titleId ?? '', partId: file?.partId ?? '', fileId: file?.id ?? '' };
}
