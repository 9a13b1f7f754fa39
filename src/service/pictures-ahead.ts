import { setTimeout as after } from 'node:timers/promises';
import type { Activity, Archive, DrawingTools, News } from '../archive/index.ts';
import type { PagePictures } from '../reporting/index.ts';

/** How often it is looked whether the queue of work is empty. */
const LOOK_MS = 500;

/** What is needed to draw pages before people ask for them. */
export interface PicturesAheadOrder {
  readonly archive: Pick<Archive, 'catalogue'>;
  readonly activity: Activity;
  readonly pictures: PagePictures;
  /** The workers of checks. */
  readonly pool: DrawingTools['pool'];
  readonly onTrouble: (error: unknown) => void;
}

/**
 * Draws the pages of each file once the work on it is done, one at a time and only while nothing waits to be read or
 * compared, so that whoever opens the book does not wait for a page to be drawn.
 *
 * @returns ends it
 */
export function startPicturesAhead(order: PicturesAheadOrder): () => Promise<void> {
  const { archive, activity, pictures, pool, onTrouble } = order;
  const stopping = new AbortController();
  let seen: Promise<void> = Promise.resolve();
  const isQuiet = async (): Promise<boolean> => {
    while (!stopping.signal.aborted && (await archive.catalogue.jobs.open()).length > 0) {
      await after(LOOK_MS, undefined, { signal: stopping.signal }).catch(() => undefined);
    }
    return !stopping.signal.aborted;
  };
  const see = async (fileId: string): Promise<void> => {
    const file = stopping.signal.aborted ? null : await archive.catalogue.files.get(fileId);
    if (file !== null) await pictures.drawAhead(file, pool, isQuiet);
  };
  const end = activity.listen(({ what, fileId }: News) => {
    if ((what !== 'read' && what !== 'pictures') || fileId === null) return;
    seen = seen.then(() => see(fileId)).catch(onTrouble);
  });
  return async () => {
    end();
    stopping.abort();
    await seen;
  };
}
