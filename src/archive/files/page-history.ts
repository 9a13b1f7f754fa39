import type { PageState } from '../../model/index.ts';
import type { KeptReport, SentFile } from '../catalogue/index.ts';
import { newestReport } from '../checking/file-findings.ts';
import type { Archive } from '../open-archive.ts';
import { readReport } from '../read-report.ts';
import { bookPages } from './book-pages.ts';
import type { BookPage, BookTables } from './book-pages.ts';

/** What became of a page of the dummy in one file. */
export interface PageInFile {
  readonly file: SentFile;
  /** `dummy` for the dummy itself; `not-compared` where there is no report yet. */
  readonly state: PageState | 'dummy' | 'not-compared';
  /** Its number in the whole book that the file stands for; null where it is missing or not known. */
  readonly pageNumber: number | null;
  readonly contentHash: string | null;
}

/**
 * The history of one page: the dummy's, then what every later file has for it, in order of arrival. Where a file shows it
 * twice, both places are told.
 *
 * @param dummyPage  from 1
 * @returns empty where the dummy has no such page or was not read yet
 */
export async function pageHistory(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  dummy: SentFile,
  dummyPage: number,
): Promise<readonly PageInFile[]> {
  const own = (await bookPages(catalogue, dummy))?.[dummyPage - 1];
  if (own === undefined) return [];
  const { contentHash } = own;
  const history: PageInFile[] = [{ file: dummy, state: 'dummy', pageNumber: dummyPage, contentHash }];
  for (const file of await catalogue.files.ofPart(dummy.partId)) {
    const report = file.kind === 'dummy' ? null : await newestReport(catalogue, { dummyId: dummy.id, fileId: file.id });
    if (report !== null) {
      const pages = await pagesOrNone(catalogue, file, report);
      const pairs = (await readReport(blobs, report.sha256)).pages.filter((pair) => pair.dummyPage === dummyPage);
      for (const { state, revisionPage: pageNumber } of pairs) {
        const page = pageNumber === null ? undefined : pages[pageNumber - 1];
        history.push({ file, state, pageNumber, contentHash: page?.contentHash ?? null });
      }
    } else if (file.kind !== 'dummy' && file.position > dummy.position) {
      history.push({ file, state: 'not-compared', pageNumber: null, contentHash: null });
    }
  }
  return history;
}

async function pagesOrNone(catalogue: BookTables, file: SentFile, as: KeptReport): Promise<readonly BookPage[]> {
  return (await bookPages(catalogue, file, as)) ?? [];
}
