import { isDeepStrictEqual } from 'node:util';
import type { AssembledBook, DescribedFile } from '../check-request.ts';
import type { SheetCut } from '../../reading/index.ts';
import type { ReadingTools } from '../read-file.ts';
import { describeFile } from '../read-file.ts';
import type { SheetsSource } from './sheets-source.ts';

/** What sheets fold to. */
export interface FoldedBook {
  readonly book: string | AssembledBook;
  /** Where that was done already. */
  readonly described: DescribedFile | null;
}

/** A book that is folded on the guess that pages lie at their planned places. */
export interface FoldedAhead {
  /** The book by these cuts; the one that was begun where they are the same. */
  by(this: void, cuts: readonly SheetCut[], printedOn: PrintedOn): Promise<FoldedBook>;
  /** Waits for what was begun. */
  end(this: void): Promise<void>;
}

/** Of plates: which prints which ink. */
type PrintedOn = Parameters<SheetsSource['fold']>[2];

/** A guess that is wrong costs writing the book once more, so long ones are not folded on one. */
const MOST_BYTES = 200e6;

/**
 * Begins to fold sheets at the places that their plan has, and to describe the book, while it is still measured whether pages
 * lie there: then nothing waits for the measuring.
 */
export function foldAhead(
  tools: ReadingTools,
  { plates, fold }: SheetsSource,
  file: DescribedFile,
  planned: readonly SheetCut[],
): FoldedAhead {
  const foldNow = async (cuts: readonly SheetCut[], printedOn: PrintedOn): Promise<FoldedBook> => ({
    book: await fold(file, cuts, printedOn),
    described: null,
  });
  if (plates !== null || file.identity.bytes > MOST_BYTES) return { by: foldNow, end: () => Promise.resolve() };
  const guessed = foldNow(planned, new Map()).then(async ({ book }) => {
    return { book, described: await describeFile(tools, book, () => undefined) };
  });
  // whether it failed is asked by whoever asks for the book
  const ended = guessed.then(
    () => undefined,
    () => undefined,
  );
  return {
    async by(cuts, printedOn) {
      if (isDeepStrictEqual(cuts, planned)) return guessed;
      await ended;
      return foldNow(cuts, printedOn);
    },
    end: () => ended,
  };
}
