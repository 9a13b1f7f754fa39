import type { PageView } from '../comparing/index.ts';
import type { PageDescription, PageFacts, UnreadablePage } from '../model/index.ts';

/** A page of either file as far as it is known. */
export type KnownPage = PageDescription | PageFacts | UnreadablePage;

/** Whether a page was drawn, so that its facts are all known. */
export function isDrawn(page: KnownPage | undefined): page is PageFacts {
  return page !== undefined && 'words' in page;
}

/** A page as pairing sees it. */
export function viewOf(page: KnownPage): PageView {
  if ('unreadable' in page) {
    const { pageNumber } = page;
    return { pageNumber, contentHash: null, trimmed: null, pictures: [], words: null, signature: null, blank: null };
  }
  const { pageNumber, contentHash, trimmed, pictures } = page;
  const seen = 'words' in page ? page : { words: null, signature: null, blank: null };
  const { words, signature, blank } = seen;
  return { pageNumber, contentHash, trimmed, pictures, words, signature, blank };
}
