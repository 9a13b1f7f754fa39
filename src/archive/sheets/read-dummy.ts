import { join } from 'node:path';
import type { PageDescription, PageFacts, PageRaster, Tolerances, UnreadablePage, Word } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import { knownPage } from '../../plates/index.ts';
import type { Grey, KnownPage } from '../../plates/index.ts';
import type { DescribedFile, DrawnAhead } from '../check-request.ts';
import type { ReadingTools } from '../read-file.ts';
import { keepDrawn, runJob } from '../read-file.ts';
import { DUMMY_PPI } from './look-resolutions.ts';

/** A page of the dummy as it is looked for on sheets. */
export interface LookedFor {
  readonly description: PageDescription;
  readonly grey: Grey;
  readonly words: readonly Word[];
  readonly known: KnownPage;
  /** About a pixel a millimetre: what the plates of its inks are held against. */
  readonly colours: PageRaster;
}

/** A dummy whose pages are being drawn. */
export interface DummyBeingRead extends DrawnAhead {
  /** Null for one that cannot be read, which the comparison tells. */
  readonly pages: Promise<readonly (LookedFor | null)[]>;
  /** Begins no more, and waits for those that were begun; the others are not looked for. */
  end(this: void): Promise<void>;
}

/**
 * Draws the dummy's pages, some at a time behind what else there is to do: to be looked for on sheets and, where it is at the
 * resolution that they will be compared at, for the comparison as well.
 *
 * @param folder  for their rasters, until the check has ended
 * @param onDone  told how many more pages are done
 */
export function readDummy(
  tools: ReadingTools,
  file: DescribedFile,
  { analysisPpi }: Pick<Tolerances, 'analysisPpi'>,
  folder: string,
  onDone: (done: number) => void,
): DummyBeingRead {
  const servesComparison = analysisPpi === DUMMY_PPI;
  const rasterPathOf = (pageNumber: number): string => join(folder, `dummy-${pageNumber}.raster`);
  const facts = new Map<number, PageFacts>();
  const looked = file.pages.map((): LookedFor | null => null);
  const left = [...file.pages];

  const look = async (description: PageDescription): Promise<LookedFor> => {
    const { pageNumber } = description;
    const { path, pageNumber: filePage } = file.sourceOf(pageNumber);
    const { limits } = tools;
    const rasterPath = servesComparison ? rasterPathOf(pageNumber) : null;
    const job = { do: 'look-at-dummy-page', path, pageNumber: filePage, rasterPath, limits } as const;
    const { drawn, grey, colours } = await runJob(tools, job);
    if (servesComparison) {
      facts.set(pageNumber, { ...description, ...drawn });
      await keepDrawn(tools, file, description, DUMMY_PPI, drawn);
    }
    return { description, grey, words: drawn.words, colours, known: knownPage(pageNumber, grey) };
  };

  const lookUnlessUnreadable = async (page: PageDescription | UnreadablePage): Promise<LookedFor | null> => {
    if ('unreadable' in page) return null;
    try {
      return await look(page);
    } catch (error) {
      if (error instanceof Refusal) return null;
      throw error;
    } finally {
      onDone(1);
    }
  };

  const goOn = async (): Promise<void> => {
    for (let page = left.shift(); page !== undefined; page = left.shift()) {
      looked[page.pageNumber - 1] = await lookUnlessUnreadable(page);
    }
  };
  const going = Promise.all(Array.from({ length: tools.pool.size }, goOn));

  return {
    pages: going.then(() => looked),
    rasterPathOf,
    pageOf: (pageNumber) => facts.get(pageNumber),
    async end() {
      left.length = 0;
      await going;
    },
  };
}
