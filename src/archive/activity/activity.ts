import type { FileKind, JobKind } from '../catalogue/index.ts';
import type { FindingKind, Weight } from '../../model/index.ts';

/** A finding as it is told before the report is made: it bears no lasting id yet. */
export interface FirstFinding {
  readonly kind: FindingKind;
  readonly weight: Weight;
  readonly dummyPage: number | null;
  readonly revisionPage: number | null;
  readonly says: string;
}

/** What each kind of news carries. */
export interface NewsData {
  readonly received: { readonly kind: FileKind; readonly revisionNumber: number | null };
  readonly progress: {
    readonly job: JobKind;
    readonly stage: string;
    readonly done: number;
    readonly total: number;
  };
  readonly read: { readonly pages: number; readonly unreadable: number };
  readonly findings: { readonly dummyId: string; readonly findings: readonly FirstFinding[] };
  readonly compared: {
    readonly dummyId: string;
    readonly reportId: string;
    readonly verdict: 'match' | 'differs';
    readonly weights: Readonly<Record<Weight, number>>;
  };
  readonly pictures: { readonly reportId: string; readonly pictures: number };
  /** A job failed; it is tried again unless this was its last try. */
  readonly stumbled: { readonly job: JobKind; readonly cause: string; readonly isLast: boolean };
  /** It was said again how sheets fold. */
  readonly folded: { readonly saidAgain: number };
  /** Somebody said something about a finding. */
  readonly remarked: { readonly findingId: string };
  /** A party stated something; told by whoever admits it. */
  readonly stated: { readonly statementId: string; readonly kind: string };
}

/** What happened, of one kind. */
export interface NewsOf<K extends keyof NewsData> {
  /** Rises by at least one with each piece of news, also over a restart. */
  readonly number: number;
  readonly atMs: number;
  readonly titleId: string;
  readonly partId: string | null;
  readonly fileId: string | null;
  readonly what: K;
  readonly data: NewsData[K];
}

/** A piece of news for people who watch. */
export type News = { [K in keyof NewsData]: NewsOf<K> }[keyof NewsData];
/** News before it has its number. */
export type NewsToTell = { [K in keyof NewsData]: Omit<NewsOf<K>, 'number' | 'atMs'> }[keyof NewsData];

/** News of one process. Nothing rests on it: what lasts is in the catalogue. */
export interface Activity {
  tell(news: NewsToTell): void;
  /** What was told after a number; null where that is no longer known and a watcher has to look at everything anew. */
  since(number: number): readonly News[] | null;
  /** What was found so far in comparisons of a title that go on, as far as it is still known. */
  foundSoFar(titleId: string): readonly NewsOf<'findings'>[];
  /** The number of the latest news. */
  latest(): number;
  /** @returns ends it */
  listen(hear: (news: News) => void): () => void;
}

/**
 * Opens the news of a process. Numbers begin with the clock in milliseconds, so that they go on rising after a restart
 * as long as fewer than a thousand a second are told.
 *
 * @param keep  so many are kept for watchers who come back
 */
export function openActivity({ now, keep }: { readonly now: () => number; readonly keep: number }): Activity {
  const kept: News[] = [];
  const hearers = new Set<(news: News) => void>();
  const start = now();
  let latest = start;
  return {
    tell(told) {
      latest += 1;
      const news: News = { ...told, number: latest, atMs: now() };
      kept.push(news);
      if (kept.length > keep) kept.shift();
      for (const hear of hearers) hear(news);
    },
    since(number) {
      const isKnown = number >= (kept[0] === undefined ? latest : kept[0].number - 1) && number <= latest;
      return isKnown ? kept.filter((news) => news.number > number) : null;
    },
    foundSoFar(titleId) {
      const found: NewsOf<'findings'>[] = [];
      const ended = new Set<string | null>();
      // From the end: what was found before a comparison ended or failed is no longer of interest.
      for (const news of kept.toReversed()) {
        if (news.titleId !== titleId) continue;
        if (news.what === 'compared' || (news.what === 'stumbled' && news.data.job === 'compare'))
          ended.add(news.fileId);
        if (news.what === 'findings' && !ended.has(news.fileId)) found.push(news);
      }
      return found.reverse();
    },
    latest: () => latest,
    listen(hear) {
      hearers.add(hear);
      return () => void hearers.delete(hear);
    },
  };
}
