import type { Limits, PageRaster, Report, Tolerances } from '../../model/index.ts';
import type { Pool } from '../../reading/pool/index.ts';
import type { Activity } from '../activity/activity.ts';
import type { KeptReport, SentFile } from '../catalogue/index.ts';
import type { RecentFacts } from '../recent-facts.ts';

/** A report that is kept, with what is needed to draw pictures of it. */
export interface ReportToDraw {
  readonly kept: KeptReport;
  readonly report: Report;
  readonly dummy: SentFile;
  readonly file: SentFile;
  readonly drawPage: (side: 'dummy' | 'revision', pageNumber: number, ppi: number) => Promise<PageRaster>;
  /** Of imposed sheets, a side: a page of the file, or what its plates print together. */
  readonly drawSide: (filePage: number, ppi: number) => Promise<PageRaster>;
  readonly onProgress: (progress: { readonly done: number; readonly total: number }) => void;
}

/** What the jobs of an archive need. */
export interface CheckingOrder {
  /** Workers that read, draw and compare pages; they are closed after the workers on the queue. */
  readonly pool: Pool;
  readonly limits: Limits;
  readonly tolerances: Tolerances;
  /** Where facts of pages are kept for the next check; null keeps nothing. */
  readonly factsFolder: string | null;
  /** What was read from it lately. */
  readonly recentFacts?: RecentFacts | undefined;
  readonly now: () => number;
  readonly activity: Activity;
  /** Told of a part whose dummy was read: files that are held against it may come now. */
  readonly onDummyRead?: (partId: string) => void;
  /** A report as the published document. */
  readonly formatReport: (report: Report) => string;
  /** Draws and keeps the pictures of a report. @returns how many */
  readonly drawReport: (subject: ReportToDraw) => Promise<number>;
}
