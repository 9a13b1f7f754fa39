import { join } from 'node:path';
import type { FileIdentity } from '../../model/index.ts';
import type { JudgedPlates } from '../../plates/index.ts';
import type { SheetCut } from '../../reading/index.ts';
import type { AssembledBook, DescribedFile } from '../check-request.ts';
import type { ReadingTools } from '../read-file.ts';
import { runJob } from '../read-file.ts';
import type { ReadPlates } from './separations/find-plates.ts';

/** The sides of sheets as they can be drawn, and a way to cut pages out of them. */
export interface SheetsSource {
  /** One page a side. */
  readonly book: string | AssembledBook;
  /** What a report names as the revision; null where it is the book's own file. */
  readonly identity: Omit<FileIdentity, 'pages'> | null;
  /** Where the sides come as one plate for each ink. */
  readonly plates: ReadPlates | null;
  /** The same sheets so many times as large; null of plates, whose pixels have their size. */
  readonly enlarged: ((file: DescribedFile, times: number) => Promise<SheetsSource>) | null;
  /**
   * Cuts the pages out, in the order given: the folded book.
   *
   * @param printedOn  of plates, by page of the sheets: which prints which ink, and how far it is off
   */
  fold(
    this: void,
    file: DescribedFile,
    cuts: readonly SheetCut[],
    printedOn: ReadonlyMap<number, JudgedPlates['printed'][number]>,
  ): Promise<string | AssembledBook>;
}

/**
 * Sheets that are a PDF of one page a side.
 *
 * @param identity  of the file that was sent, where this is another
 */
export function pdfSheets(
  path: string,
  tools: ReadingTools,
  scratch: string,
  identity: SheetsSource['identity'] = null,
): SheetsSource {
  return {
    book: path,
    identity,
    plates: null,
    async enlarged(file, times) {
      const to = join(scratch, 'at-full-size.pdf');
      await runJob(
        tools,
        { do: 'fold', path, cuts: wholePages(file, times), to, limits: tools.limits },
        file.pages.length,
      );
      const { sha256, bytes } = file.identity;
      return pdfSheets(to, tools, scratch, { sha256, bytes });
    },
    async fold(file, cuts) {
      const to = join(scratch, 'folded.pdf');
      await runJob(tools, { do: 'fold', path, cuts, to, limits: tools.limits }, file.pages.length);
      return to;
    },
  };
}

function wholePages({ pages }: DescribedFile, times: number): readonly SheetCut[] {
  return pages.flatMap((page) => {
    if ('unreadable' in page) return [];
    const box = { x: 0, y: 0, ...page.trimmed };
    return [{ filePage: page.pageNumber, box, turnDeg: 0, bleedMm: 0, enlarged: times } as const];
  });
}
