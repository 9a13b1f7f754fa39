import { join } from 'node:path';
import type { CheckRequest, DescribedFile, Progress } from './check-request.ts';
import type { FoundInPlace } from './compare-in-place.ts';
import type { KnownPage } from './known-page.ts';
import type { ReadingTools } from './read-file.ts';

/** Which of the two files. */
export type Side = 'dummy' | 'revision';
/** Both, in the order that they are told in. */
export const SIDES: readonly Side[] = ['dummy', 'revision'];

/** One check under way: the request, its tools, and the files. */
export interface Check {
  readonly request: CheckRequest;
  readonly tools: ReadingTools;
  readonly files: Readonly<Record<Side, DescribedFile>>;
  readonly scratch: string;
}

/** Pages of both files as far as they are known; drawn ones take the place of described ones as they come. */
export type Pages = Readonly<Record<Side, readonly KnownPage[]>>;

/** The pages, and what was found before they were paired. */
export interface Drawn {
  readonly pages: Pages;
  readonly inPlace: FoundInPlace;
}

/** Where a page's raster is left for other workers. */
export function rasterPathOf({ scratch, request: { dummyAhead } }: Check, side: Side, pageNumber: number): string {
  if (side === 'dummy' && dummyAhead !== undefined) return dummyAhead.rasterPathOf(pageNumber);
  return join(scratch, `${side}-${pageNumber}.raster`);
}

/** Whether a pair, or a page that has no other, is asked for. */
export type Covers = (page: { readonly dummyPage: number | null; readonly revisionPage: number | null }) => boolean;

/** With `--pages`, what touches the range on either side; findings about whole files always. */
export function coverage({ pages }: CheckRequest): Covers {
  if (pages === undefined) return () => true;
  const within = (page: number | null): boolean => page !== null && page >= pages.first && page <= pages.last;
  return ({ dummyPage, revisionPage }) =>
    (dummyPage === null && revisionPage === null) || within(dummyPage) || within(revisionPage);
}

/** Adds up what is done of a stage and tells it. */
export function counter(
  { onProgress }: CheckRequest,
  stage: Progress['stage'],
): { add(done: number, total: number): void } {
  let sum = 0;
  return {
    add(done, total) {
      sum += done;
      onProgress?.({ stage, done: sum, total });
    },
  };
}
