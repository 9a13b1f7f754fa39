import type { PageDescription, UnreadablePage } from '../../model/index.ts';
import type { KeptPage } from '../catalogue/index.ts';

/** What the catalogue keeps of a page: its content and size, or why it could not be read. */
export function keptPage(page: PageDescription | UnreadablePage): KeptPage {
  const { pageNumber } = page;
  if ('unreadable' in page) return { pageNumber, unreadable: page.unreadable };
  const { contentHash, trimmed } = page;
  return { pageNumber, contentHash, widthMm: trimmed.width, heightMm: trimmed.height };
}
