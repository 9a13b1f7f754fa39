import type { ReleasedSide } from '../../model/index.ts';
import { releasedSides } from '../../model/index.ts';
import type { Blobs } from '../blobs/index.ts';
import type { KeptReport, SentFile, Tables } from '../catalogue/index.ts';
import { blobPages } from '../files/book-pages.ts';
import { readReport } from '../read-report.ts';

/**
 * The sides of a plates input of imposed sheets as a release names them: as its report tells them, with the hash of each
 * side's page or of each of its plates.
 *
 * @returns null where single pages are released
 * @throws {Refusal} not-found, unreadable: as `readReport`
 */
export async function releasedSheets(
  { tables, blobs }: { readonly tables: Tables; readonly blobs: Blobs },
  file: SentFile,
  report: KeptReport,
): Promise<readonly ReleasedSide[] | null> {
  if ((await tables.foldedBooks.ofFile(file.id)) === null) return null;
  const { sheets } = await readReport(blobs, report.sha256);
  if (sheets === undefined) return null;
  const pages = (await blobPages(tables, file.sha256)) ?? [];
  return releasedSides(sheets, (filePage) => pages[filePage - 1]?.contentHash ?? '');
}
