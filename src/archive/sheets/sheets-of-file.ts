import type { ReportSheets, ReportSide } from '../../model/index.ts';
import type { FoldedBook, KeptReport, SentFile } from '../catalogue/index.ts';
import { dummyToCompareWith } from '../checking/dummy-to-compare-with.ts';
import { newestReport } from '../checking/file-findings.ts';
import { blobPages } from '../files/book-pages.ts';
import type { Archive } from '../open-archive.ts';
import { readReport } from '../read-report.ts';

/** A side with the content hash of the page that it is in the file, or of what was put together from its plates. */
export interface SideOfFile extends ReportSide {
  /** Null where it could not be read. */
  readonly contentHash: string | null;
}

/** How a plates input was taken apart. */
export interface SheetsOfFile extends Omit<ReportSheets, 'sides'> {
  readonly sides: readonly SideOfFile[];
  readonly folded: FoldedBook;
  /** The report that was made by it. */
  readonly report: KeptReport;
}

/**
 * The sheets of a plates input, as its newest report under the dummy that its part is held against now has them.
 *
 * @returns null where the file is no sheets, or was not taken apart yet
 */
export async function sheetsOfFile(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  file: SentFile,
): Promise<SheetsOfFile | null> {
  const dummy = await dummyToCompareWith(catalogue, file.partId);
  const report = dummy && (await newestReport(catalogue, { dummyId: dummy.id, fileId: file.id }));
  const folded = report && (await catalogue.foldedBooks.ofFile(file.id, report));
  if (report === null || folded === null) return null;
  const { sheets } = await readReport(blobs, report.sha256);
  const pages = await blobPages(catalogue, folded.sides ?? file.sha256);
  if (sheets === undefined || pages === null) return null;
  const sides = sheets.sides.map((side) => ({ ...side, contentHash: pages[side.filePage - 1]?.contentHash ?? null }));
  return { ...sheets, sides, folded, report };
}
