import { openHtmlReport } from './html/html-report.ts';
import { openPdfReport } from './pdf/pdf-report.ts';
import { drawExhibits } from './pictures/draw-exhibits.ts';
import type { ReportSubject } from './report-subject.ts';

/** Which reports to write and how. */
export interface ReportOrder {
  /** Folder of the HTML report. */
  readonly htmlFolder?: string;
  /** File of the PDF report. */
  readonly pdfPath?: string;
  /** Pairs of pages that are drawn at the same time. */
  readonly pairsAtOnce: number;
  readonly onProgress?: (progress: { readonly done: number; readonly total: number }) => void;
}

/**
 * Writes the reports with pictures; each page is drawn once for both. The same subject gives the same bytes.
 *
 * @throws {Refusal} malformed: the HTML folder holds something that is no report
 */
export async function writeReports(subject: ReportSubject, order: ReportOrder): Promise<void> {
  const sinks = [
    ...(order.htmlFolder === undefined ? [] : [await openHtmlReport(subject, order.htmlFolder)]),
    ...(order.pdfPath === undefined ? [] : [openPdfReport(subject, order.pdfPath)]),
  ];
  if (sinks.length === 0) return;
  const exhibits = await drawExhibits(subject, {
    pairsAtOnce: order.pairsAtOnce,
    take: async (shot, picture, use) => {
      for (const sink of sinks) await sink.take(shot, picture, use);
    },
    ...(order.onProgress === undefined ? {} : { onProgress: order.onProgress }),
  });
  for (const sink of sinks) await sink.finish(exhibits);
}
