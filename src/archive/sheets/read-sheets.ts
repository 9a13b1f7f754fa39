import type { PageDescription, Word } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import type { Grey, MarkedGrid, Plan } from '../../plates/index.ts';
import type { PictureShelf } from '../../reading/index.ts';
import type { DescribedFile } from '../check-request.ts';
import type { ReadingTools } from '../read-file.ts';
import { runJob } from '../read-file.ts';
import type { LookedFor } from './read-dummy.ts';

/** A page of the file of sheets. */
export interface ReadSide {
  readonly width: number;
  readonly height: number;
  readonly grey: Grey;
  readonly words: readonly Word[];
  readonly marks: MarkedGrid | null;
  readonly boxes: MarkedGrid | null;
}

/** What the plan of sheets is settled by. */
export interface SheetsRead {
  readonly pages: readonly (LookedFor | null)[];
  /** Of most of the dummy's pages. */
  readonly trimmed: Plan['trimmed'];
  readonly sides: readonly ReadSide[];
}

/** Told how many more pages are done. */
type OnDone = (done: number) => void;

/**
 * Draws the sides of the sheets, and reads their crop marks and the boxes of the pages on them.
 *
 * @param pageSize  of the pages whose marks and boxes are read; null where their places are known without
 * @throws {Refusal} unreadable: a side that cannot be drawn, since what stands on it cannot be told
 */
export async function readSides(
  tools: ReadingTools,
  file: DescribedFile,
  pageSize: PageDescription['trimmed'] | null,
  onDone: OnDone,
  shelf: PictureShelf,
): Promise<readonly ReadSide[]> {
  return Promise.all(
    file.pages.map(async (page): Promise<ReadSide> => {
      if ('unreadable' in page) {
        throw new Refusal('unreadable', { file: 'the sheets', reason: page.unreadable, page: page.pageNumber });
      }
      const { path, pageNumber } = file.sourceOf(page.pageNumber);
      const { limits } = tools;
      const job = { do: 'look-at-side', path, pageNumber, limits, pageSize, shelf } as const;
      const { grey, words, marks, boxes } = await runJob(tools, job);
      onDone(1);
      return { ...page.trimmed, grey, words, marks, boxes };
    }),
  );
}
