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
  const { htmlFolder, pdfPath } = order;
  if (htmlFolder === undefined && pdfPath === undefined) return;
  // What draws and writes pages takes long to load, and most comparisons ask for none.
  const { openHtmlReport } = await import('./html/html-report.ts');
  const { openPdfReport } = await import('./pdf/pdf-report.ts');
  const { drawExhibits } = await import('./pictures/draw-exhibits.ts');
  const sinks = [
    ...(htmlFolder === undefined ? [] : [await openHtmlReport(subject, htmlFolder)]),
    ...(pdfPath === undefined ? [] : [openPdfReport(subject, pdfPath)]),
  ];
  const exhibits = await drawExhibits(subject, {
    pairsAtOnce: order.pairsAtOnce,
    take: async (shot, picture, use) => {
      for (const sink of sinks) await sink.take(shot, picture, use);
    },
    ...(order.onProgress === undefined ? {} : { onProgress: order.onProgress }),
  });
  for (const sink of sinks) await sink.finish(exhibits);
}
