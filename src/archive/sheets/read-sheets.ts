import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { halveRaster } from '../../comparing/index.ts';
import type { PageDescription, PageRaster, Word } from '../../model/index.ts';
import { MM_PER_INCH, Refusal } from '../../model/index.ts';
import { findCropMarks, greyOf, halveGrey, knownPage } from '../../plates/index.ts';
import type { Grey, KnownPage, MarkedGrid } from '../../plates/index.ts';
import type { PictureShelf } from '../../reading/index.ts';
import { readRaster } from '../raster-file.ts';
import type { PageSource } from '../check-request.ts';
import type { DescribedFile, ReadingTools } from '../read-file.ts';
import { runJob } from '../read-file.ts';

/** Two pixels a millimetre to recognise and measure pages by; twice that for hairlines. */
const PAGE_PPI = 2 * MM_PER_INCH;
const MARKS_PPI = 4 * MM_PER_INCH;

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
}

/** Told how many more pages are done. */
type OnDone = (done: number) => void;

/** Draws the dummy's pages small; null for one that cannot be read, which the comparison tells. */
export async function readDummy(
  tools: ReadingTools,
  file: DescribedFile,
  scratch: string,
  onDone: OnDone,
): Promise<readonly (LookedFor | null)[]> {
  return Promise.all(
    file.pages.map(async (description): Promise<LookedFor | null> => {
      if ('unreadable' in description) return null;
      const { pageNumber } = description;
      try {
        const { grey, words, raster } = await drawGrey(
          tools,
          file.sourceOf(pageNumber),
          PAGE_PPI,
          join(scratch, `look-${pageNumber}`),
        );
        return { description, grey, words, colours: halveRaster(raster), known: knownPage(pageNumber, grey) };
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
 * Draws the sides of the sheets and reads their crop marks.
 *
 * @throws {Refusal} unreadable: a side that cannot be drawn, since what stands on it cannot be told
 */
export async function readSides(
  tools: ReadingTools,
  file: DescribedFile,
  trimmed: PageDescription['trimmed'],
  scratch: string,
  onDone: OnDone,
  shelf: PictureShelf,
): Promise<readonly ReadSide[]> {
  return Promise.all(
    file.pages.map(async (page): Promise<ReadSide> => {
      if ('unreadable' in page) {
        throw new Refusal('unreadable', { file: 'the sheets', reason: page.unreadable, page: page.pageNumber });
      }
      const path = join(scratch, `side-${page.pageNumber}`);
      const { grey, words } = await drawGrey(tools, file.sourceOf(page.pageNumber), MARKS_PPI, path, shelf);
      onDone(1);
      return { ...page.trimmed, grey: halveGrey(grey), words, marks: findCropMarks(grey, trimmed) };
    }),
  );
}

async function drawGrey(
  tools: ReadingTools,
  { path, pageNumber }: Pick<PageSource, 'path' | 'pageNumber'>,
  ppi: number,
  rasterPath: string,
  shelf: PictureShelf | null = null,
): Promise<{ readonly grey: Grey; readonly words: readonly Word[]; readonly raster: PageRaster }> {
  const { words } = await runJob(tools, {
    do: 'draw',
    path,
    pageNumber,
    ppi,
    rasterPath,
    limits: tools.limits,
    shelf,
  });
  const raster = await readRaster(rasterPath);
  await rm(rasterPath, { force: true });
  if (raster === null) {
    throw new Refusal('unavailable', { what: 'a drawn page', reason: 'it cannot be read back from the disk' });
  }
  return { grey: greyOf(raster), words, raster };
}
