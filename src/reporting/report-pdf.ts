import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { lendReport, openKeptFacts, PAGE_RENDERER } from '../archive/index.ts';
import type { Archive, DrawingTools, KeptReport } from '../archive/index.ts';
import { writeReports } from './write-reports.ts';

/** What reports are made as PDF with. */
export interface ReportPdfOrder {
  readonly archive: Pick<Archive, 'blobs' | 'catalogue'>;
  /** Draws the pages, beside everything else. */
  readonly tools: Pick<DrawingTools, 'pool' | 'limits'>;
  /** Of the archive; what is in it can be made again. */
  readonly factsFolder: string;
}

/** Kept reports as PDF, to be printed and filed. */
export interface ReportPdfs {
  /**
   * A report as the command writes it, made once and then kept among what can be made again.
   *
   * @throws {Refusal} unreadable, too-large, unavailable: a page cannot be drawn, a disk fails
   */
  reportPdf(report: KeptReport): Promise<Uint8Array>;
}

/** Opens the making of them; a report that is asked for twice at once is made once. */
export function openReportPdfs({ archive, tools, factsFolder }: ReportPdfOrder): ReportPdfs {
  const inHand = new Map<string, Promise<Uint8Array>>();
  const make = async (report: KeptReport): Promise<Uint8Array> => {
    const facts = await openKeptFacts(factsFolder, PAGE_RENDERER);
    const terms = [report.sha256, report.dummyId, report.fileId];
    const known = await facts.read<Uint8Array>('report-pdf', terms);
    if (known !== null) return known;
    const folder = await mkdtemp(join(tmpdir(), 'witnessleaf-report-'));
    try {
      const pdfPath = join(folder, 'report.pdf');
      await lendReport(archive, tools, report, ({ report: told, dummy, file, drawPage, drawSide }) =>
        writeReports(
          { report: told, names: { dummy: dummy.name, revision: file.name }, drawPage, drawSide },
          { pdfPath, pairsAtOnce: 1 },
        ),
      );
      const made = new Uint8Array(await readFile(pdfPath));
      await facts.write('report-pdf', terms, made);
      return made;
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  };
  return {
    reportPdf(report) {
      const making = inHand.get(report.id) ?? make(report);
      inHand.set(report.id, making);
      return making.finally(() => inHand.delete(report.id));
    },
  };
}
