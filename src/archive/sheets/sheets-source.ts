import { join } from 'node:path';
import type { FileIdentity } from '../../model/index.ts';
import type { JudgedPlates } from '../../plates/index.ts';
import type { SheetCut } from '../../reading/index.ts';
import type { AssembledBook } from '../check-request.ts';
import type { DescribedFile, ReadingTools } from '../read-file.ts';
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

/** Sheets that are a PDF of one page a side. */
export function pdfSheets(path: string, tools: ReadingTools, scratch: string): SheetsSource {
  return {
    book: path,
    identity: null,
    plates: null,
    async fold(file, cuts) {
      const to = join(scratch, 'folded.pdf');
      await runJob(tools, { do: 'fold', path, cuts, to, limits: tools.limits }, file.pages.length);
      return to;
    },
  };
}
