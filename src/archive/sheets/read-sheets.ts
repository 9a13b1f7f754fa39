import type { PageDescription, PageRaster, Word } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import { knownPage } from '../../plates/index.ts';
import type { Grey, KnownPage, MarkedGrid, Plan } from '../../plates/index.ts';
import type { PictureShelf } from '../../reading/index.ts';
import type { LookJob, SeenPage } from '../page-jobs.ts';
import type { DescribedFile, ReadingTools } from '../read-file.ts';
import { runJob } from '../read-file.ts';

/** A page of the dummy as it is looked for on sheets. */
export interface LookedFor {
  readonly description: PageDescription;
  readonly grey: Grey;
  readonly words: readonly Word[];
  readonly known: KnownPage;
  /** A pixel a millimetre: what the plates of its inks are held against. */
  readonly colours: PageRaster;
}

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

/** Draws the dummy's pages small; null for one that cannot be read, which the comparison tells. */
export async function readDummy(
  tools: ReadingTools,
  file: DescribedFile,
  onDone: OnDone,
): Promise<readonly (LookedFor | null)[]> {
  return Promise.all(
    file.pages.map(async (description): Promise<LookedFor | null> => {
      if ('unreadable' in description) return null;
      const { pageNumber } = description;
      try {
        const { grey, words, colours } = await look(tools, file, pageNumber, null, null);
        return { description, grey, words, colours: colours!, known: knownPage(pageNumber, grey) };
      } catch (error) {
        if (error instanceof Refusal) return null;
        throw error;
      } finally {
        onDone(1);
      }
    }),
  );
}

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
      const { grey, words, marks, boxes } = await look(tools, file, page.pageNumber, { pageSize }, shelf);
      onDone(1);
      return { ...page.trimmed, grey, words, marks, boxes };
    }),
  );
}

function look(
  tools: ReadingTools,
  file: DescribedFile,
  page: number,
  side: LookJob['side'],
  shelf: PictureShelf | null,
): Promise<SeenPage> {
  const { path, pageNumber } = file.sourceOf(page);
  return runJob(tools, { do: 'look', path, pageNumber, limits: tools.limits, side, shelf });
}
