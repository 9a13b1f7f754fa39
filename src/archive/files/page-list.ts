import { createHash } from 'node:crypto';
import { canonicalBytes } from '../../model/index.ts';

/** The pages of a book that lie in several files, as one small document with a hash of its own. */
export interface PageList {
  readonly sha256: string;
  readonly bytes: Uint8Array;
}

/**
 * Writes down of which pages a book is made, in canonical JSON: a book that was never one file can be named by one hash,
 * and everybody who has the files can put it together.
 *
 * @source RFC 8785 3.2
 */
export function pageList(pages: readonly { readonly sha256: string; readonly pageNumber: number }[]): PageList {
  const bytes = canonicalBytes({
    format: 'witnessleaf-pages/1',
    pages: pages.map(({ sha256, pageNumber }) => ({ file: sha256, page: pageNumber })),
  });
  return { sha256: createHash('sha256').update(bytes).digest('hex'), bytes };
}
