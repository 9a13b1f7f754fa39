import type { QueryClient } from '@tanstack/react-query';
import type { Checking, FirstFinding } from '../call/answers.ts';
import { checkingQuery, FIRST_FINDINGS, firstFindingsQuery } from '../files/queries.ts';
import type { News } from './news.ts';

/** Which step of the work on a file each kind of job is. */
const STEPS = { read: 'reading', compare: 'comparing', report: 'drawing' } as const;

/**
 * Keeps what news say where views look for it. Progress comes many times a second and says itself all there is to know;
 * anything else has the title asked about anew.
 */
export function keepNews(queries: QueryClient, titleId: string, news: News): void {
  const { kind, file, data } = news;
  if (kind === 'progress') {
    if (file !== null) keepProgress(queries, titleId, file, data);
    return;
  }
  if (kind === 'findings' && file !== null) {
    const told = (data.findings ?? []) as readonly FirstFinding[];
    queries.setQueryData(firstFindingsQuery(file).queryKey, (before = []) => [...before, ...told]);
    return;
  }
  // Where the line opens anew, the service tells again what it found in the comparisons that go on.
  if (kind === 'anew') queries.setQueriesData({ queryKey: FIRST_FINDINGS }, []);
  if ((kind === 'compared' || kind === 'stumbled') && file !== null)
    queries.setQueryData(firstFindingsQuery(file).queryKey, []);
  void queries.invalidateQueries({ queryKey: ['title', titleId] });
  void queries.invalidateQueries({ queryKey: ['desk'] });
}

function keepProgress(queries: QueryClient, titleId: string, fileId: string, data: News['data']): void {
  const { job, stage, done, total } = data as { job: keyof typeof STEPS; stage: string; done: number; total: number };
  queries.setQueryData(checkingQuery(titleId, fileId).queryKey, (before): Checking | undefined => {
    if (before === undefined) return before;
    const step = STEPS[job];
    const tries = before[step]?.tries ?? 1;
    return { ...before, [step]: { state: 'running', stage, done, total, tries, cause: null } };
  });
}
