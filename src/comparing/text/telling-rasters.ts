import type { PageRaster } from '../../model/index.ts';

/** A page that tells some words, and the one that shows them without telling; at one resolution. */
export interface TellingRasters {
  readonly telling: PageRaster;
  readonly showing: PageRaster;
}

/** Both pages, by which of them tells its words. */
export function tellingOf<T>(
  { dummy, revision }: { readonly dummy: T; readonly revision: T },
  side: 'dummy' | 'revision',
): { readonly telling: T; readonly showing: T } {
  return side === 'dummy' ? { telling: dummy, showing: revision } : { telling: revision, showing: dummy };
}
