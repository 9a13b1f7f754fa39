import { Refusal } from '../../model/index.ts';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import type { SentFile } from '../catalogue/index.ts';
import { openKeptFacts } from '../kept-facts.ts';
import { lentFile } from '../files/lend-book.ts';
import type { Archive } from '../open-archive.ts';
import { describeFile, drawFacts } from '../read-file.ts';
import type { CheckingOrder } from './checking-order.ts';
import { dummyToCompareWith } from './dummy-to-compare-with.ts';

/** Dummies whose pages are drawn before there is a file to hold against them. */
export interface DummiesAhead {
  /** Sees to the dummy that later files of a part are held against; where its facts are kept, nothing is done. */
  see(partId: string): void;
  /** Begins no further page; what is under way is waited for. */
  close(): Promise<void>;
}

/** What they are drawn with; without a folder for facts, nothing is drawn ahead. */
type Drawing = Pick<CheckingOrder, 'pool' | 'limits' | 'tolerances' | 'factsFolder' | 'recentFacts'>;

/**
 * Opens it. Pages are drawn one at a time, one dummy after the other, so that a check which comes meanwhile has all
 * workers but one. Facts are a convenience: what cannot be drawn is left to the check, which says so.
 *
 * @param onTrouble  told of what is no refusal
 */
export function openDummiesAhead(
  archive: Pick<Archive, 'blobs' | 'catalogue'>,
  drawing: Drawing,
  onTrouble: (error: unknown) => void,
): DummiesAhead {
  const closing = new AbortController();
  let seen: Promise<void> = Promise.resolve();
  const waiting = new Set<string>();
  const seeTo = async (partId: string): Promise<void> => {
    waiting.delete(partId);
    if (closing.signal.aborted) return;
    const dummy = await dummyToCompareWith(archive.catalogue, partId);
    if (dummy !== null) await drawAhead(archive, drawing, dummy, closing.signal);
  };
  return {
    see(partId) {
      if (drawing.factsFolder === null || waiting.has(partId)) return;
      waiting.add(partId);
      seen = seen
        .then(() => seeTo(partId))
        .catch((error: unknown) => {
          if (!(error instanceof Refusal)) onTrouble(error);
        });
    },
    async close() {
      closing.abort();
      await seen;
    },
  };
}

async function drawAhead(
  { blobs }: Pick<Archive, 'blobs'>,
  { pool, limits, tolerances, factsFolder, recentFacts }: Drawing,
  { sha256 }: SentFile,
  signal: AbortSignal,
): Promise<void> {
  const tools = { pool, limits, kept: await openKeptFacts(factsFolder, RASTER_RENDERER, recentFacts) };
  await blobs.lend(sha256, async (path) => {
    const file = await describeFile(tools, await lentFile(blobs, sha256, path), () => undefined);
    for (const page of file.pages) {
      if (signal.aborted) return;
      if ('unreadable' in page) continue;
      await drawFacts(tools, file, page, { ppi: tolerances.analysisPpi, rasterPath: null });
    }
  });
}
